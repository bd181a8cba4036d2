import { createAnswers } from './answers.ts'
import type { Edges } from './edges.ts'
import { createPageKeeper } from './pageKeeper.ts'
import { createWatch, type Watch } from './watch.ts'

/** The running whole: the watch, which must go on whatever happens, and the page side beside it, which may end. */
export interface Headrace {
  watch: Watch
  /** Where the page is. */
  url: string
  close(): Promise<void>
}

export async function startHeadrace(edges: Edges): Promise<Headrace> {
  const { broker, history } = edges
  const watch = createWatch(edges)
  const page = createPageKeeper(watch, createAnswers(watch, edges), edges)
  await broker.start()
  const simulator = edges.simulate?.(broker.url())
  await history.open()
  const url = await page.open()
  watch.start(url)
  return {
    watch,
    url,
    async close() {
      await page.close()
      simulator?.stop()
      await watch.close()
      await history.close()
      edges.certificate?.close()
    },
  }
}
