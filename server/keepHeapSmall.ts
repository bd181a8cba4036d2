import { setFlagsFromString } from 'node:v8'

/** Growth of the heap [%] over what lives after a collection, before the next one. */
const HEAP_GROWTH_PERCENT = 25

/**
 * Half of the resident memory was garbage: V8 lets a heap that serves for weeks grow to several times what lives in it.
 * Call at the start of a process. What is young is kept small by `--max-semi-space-size` where the server is started (package.json,
 * Dockerfile, unit file), since that can only be said before; the processes that it starts take it over.
 */
export function keepHeapSmall(): void {
  setFlagsFromString(`--heap-growing-percent=${HEAP_GROWTH_PERCENT}`)
}
