/**
 * Loaded into the processes of the server (NODE_OPTIONS): writes, every few seconds, what only they know of themselves. Memory is
 * measured after a collection of garbage, so that a slope is of what is held and not of when it was last swept.
 */
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { isMainThread } from 'node:worker_threads'

const folder = process.env.SOAK_FOLDER
const PERIOD_MS = 5000

if (folder && isMainThread) {
  setFlagsFromString('--expose-gc')
  const collect = runInNewContext('gc')
  setInterval(() => {
    collect()
    const { heapUsed, external } = process.memoryUsage()
    const handles = process.getActiveResourcesInfo().length
    writeFileSync(join(folder, `${process.pid}.json`), JSON.stringify({ heapUsed, external, handles }))
  }, PERIOD_MS).unref()
}
