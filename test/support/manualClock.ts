import type { Clock } from '../../server/clock.ts'

/** 21 Sep 2026, 14:13:20 UTC: when time begins in tests. */
export const START = 1_790_000_000_000

export interface ManualClock extends Clock {
  /** Lets time go by: both clocks move on, and what became due runs in order of time. */
  advance(ms: number): void
  /** Both clocks move on at once, as on a machine that slept: what became due meanwhile runs once. */
  sleep(ms: number): void
  /** Sets the wall clock alone, as a person or a time server does. */
  setWall(now: number): void
}

/** A clock that stands still until it is told to move on. */
export function manualClock(start: number): ManualClock {
  let wall = start
  let mono = 0
  let tasks: { due: number; task: () => void; periodMs?: number }[] = []

  function schedule(entry: { due: number; task: () => void; periodMs?: number }): () => void {
    tasks.push(entry)
    return () => {
      tasks = tasks.filter((one) => one !== entry)
    }
  }

  return {
    now: () => wall,
    mono: () => mono,
    every: (periodMs, task) => schedule({ due: mono + periodMs, task, periodMs }),
    after: (delayMs, task) => schedule({ due: mono + delayMs, task }),
    setWall(now) {
      wall = now
    },
    sleep(ms) {
      wall += ms
      mono += ms
      for (const one of tasks.filter((task) => task.due <= mono)) {
        if (one.periodMs === undefined) tasks = tasks.filter((task) => task !== one)
        else one.due = mono + one.periodMs
        one.task()
      }
    },
    advance(ms) {
      const end = mono + ms
      for (;;) {
        const next = tasks.filter((one) => one.due <= end).sort((a, b) => a.due - b.due)[0]
        if (!next) break
        wall += next.due - mono
        mono = next.due
        if (next.periodMs === undefined) tasks = tasks.filter((one) => one !== next)
        else next.due += next.periodMs
        next.task()
      }
      wall += end - mono
      mono = end
    },
  }
}
