import type { Edges } from './edges.ts'
import { createWatch, type Watch } from './watch.ts'
import { createWindows, type Windows } from './windows.ts'

/** The running whole: the watch, which must go on whatever happens, and the windows through which people look. */
export interface Headrace {
  watch: Watch
  windows: Windows
  /** Where the page is. */
  url: string
  close(): Promise<void>
}

export async function startHeadrace(edges: Edges): Promise<Headrace> {
  const { broker, history } = edges
  const watch = createWatch(edges)
  const windows = createWindows(watch, edges)
  await broker.start()
  const simulator = edges.simulate?.(broker.url())
  await history.open()
  const url = await windows.open()
  watch.start(url)
  return {
    watch,
    windows,
    url,
    async close() {
      await windows.close()
      simulator?.stop()
      await watch.close()
      await history.close()
    },
  }
}
