import type { OutMessage } from './publish/encode.ts'
import type { Site } from './site.ts'

export interface LiveOptions {
  sites: readonly Site[]
  publish: (message: OutMessage) => void
  /** Plant seconds per second. */
  speed: number
  /** Monotonic and wall clock [ms]. */
  mono: () => number
  now: () => number
  report: (sentence: string) => void
}

/** Longest time that one tick makes up for [ms]: after a pause of the computer the plant has paused too. */
const LONGEST_TICK_MS = 500

/** Plays sites against the clock: call `tick` often, e.g. every 20 ms. Time stamps are wall clock. */
export function createLive({ sites, publish, speed, mono, now, report }: LiveOptions): { tick(): void } {
  let last = mono()
  let skipped = 0
  return {
    tick() {
      const at = mono()
      const elapsed = Math.min(at - last, LONGEST_TICK_MS)
      skipped += at - last - elapsed
      last = at
      if (skipped > 10_000) {
        report(`The plants run ${Math.round(skipped / 1000)} s late: this computer was busy or asleep.`)
        skipped = 0
      }
      for (const site of sites) {
        site.step((elapsed / 1000) * speed)
        for (const message of site.messages(now())) publish(message)
      }
    },
  }
}
