import type { Edges } from './edges.ts'
import { createPageSide, type PageSide } from './pageSide.ts'
import { createWatch, type Watch } from './watch.ts'

/** The running whole: the watch, which must go on whatever happens, and the page side, where people look. */
export interface Headrace {
  watch: Watch
  pageSide: PageSide
  /** Where the page is. */
  url: string
  close(): Promise<void>
}

export async function startHeadrace(edges: Edges): Promise<Headrace> {
  const { broker, history } = edges
  const watch = createWatch(edges)
  const pageSide = createPageSide(watch, edges)
  await broker.start()
  const simulator = edges.simulate?.(broker.url())
  await history.open()
  const url = await pageSide.open()
  watch.start(url)
  return {
    watch,
    pageSide,
    url,
    async close() {
      await pageSide.close()
      simulator?.stop()
      await watch.close()
      await history.close()
    },
  }
}
