import { monitorEventLoopDelay } from 'node:perf_hooks'

/** How late the event loop comes to what is due. */
export interface LoopDelay {
  /** 99th percentile of the last second [ms]. */
  p99(): number
  /** Call once a second. */
  tick(): void
}

/** Between two looks [ms]. */
const PERIOD_MS = 10

/**
 * What is measured is the time between two looks; what goes beyond their period is the delay. A delay that begins within one
 * period of `tick` is not seen.
 */
export function watchLoopDelay(): LoopDelay {
  const between = monitorEventLoopDelay({ resolution: PERIOD_MS })
  between.enable()
  let p99 = 0
  return {
    p99: () => p99,
    tick() {
      p99 = Math.max(0, between.percentile(99) / 1e6 - PERIOD_MS)
      between.reset()
    },
  }
}
