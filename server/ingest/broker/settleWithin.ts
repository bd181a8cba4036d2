import type { Clock } from '../../clock.ts'

/** Resolves when `work` is settled, well or badly, or when `limitMs` have gone by. Used on closing only. */
export function settleWithin(clock: Clock, limitMs: number, work: Promise<unknown>): Promise<void> {
  return new Promise((resolve) => {
    const cancel = clock.after(limitMs, resolve)
    const done = () => {
      cancel()
      resolve()
    }
    work.then(done, done)
  })
}
