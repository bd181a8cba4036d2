import type { Clock } from '../../../server/clock.ts'

/** 2026-08-01T12:00:00Z [ms]. */
export const NOON = Date.UTC(2026, 7, 1, 12)

/** A clock that stands still until it is stepped; `set` moves the wall clock alone, as an operator would. */
export function createSteppedClock(): Clock & { step(ms: number): void; set(now: number): void } {
  let mono = 0
  let offset = NOON
  const tasks = new Set<{ at: number; every?: number; run: () => void }>()
  const plan = (task: { at: number; every?: number; run: () => void }) => {
    tasks.add(task)
    return () => {
      tasks.delete(task)
    }
  }
  return {
    now: () => mono + offset,
    mono: () => mono,
    every: (periodMs, run) => plan({ at: mono + periodMs, every: periodMs, run }),
    after: (delayMs, run) => plan({ at: mono + delayMs, run }),
    set(now) {
      offset = now - mono
    },
    step(ms) {
      const end = mono + ms
      for (;;) {
        const next = [...tasks].filter((task) => task.at <= end).sort((a, b) => a.at - b.at)[0]
        if (!next) break
        mono = next.at
        if (next.every === undefined) tasks.delete(next)
        else next.at += next.every
        next.run()
      }
      mono = end
    },
  }
}
