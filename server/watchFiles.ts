import { statSync } from 'node:fs'
import type { Clock } from './clock.ts'

/** Looks for changed files every two seconds. Returns the stop function. */
export function watchFiles(files: readonly string[], clock: Clock, onChange: () => void): () => void {
  const stamp = () => files.map(modified).join()
  let known = stamp()
  return clock.every(2000, () => {
    const now = stamp()
    if (now === known) return
    known = now
    onChange()
  })
}

function modified(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0
}
