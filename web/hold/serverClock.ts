/** Further behind than this [ms], a frame means that our own clock ran ahead, not that the network is slow. */
const RESYNC_MS = 60_000

export interface TimeSources {
  /** Civil time [ms]; goes on while the machine sleeps, but may be set. */
  wall: () => number
  /** Monotonic time [ms]; is never set, but may stop while the machine sleeps. */
  mono: () => number
}

/**
 * The server's time as seen from here, so that ages do not depend on this machine's clock being right.
 *
 * Between frames the larger of wall and monotonic time passed is used: after a sleep, or when unsure, a
 * value must rather look too old than too fresh. A late frame never turns the clock back.
 */
export function createServerClock(sources: TimeSources = browserTime) {
  let base: { at: number; wall: number; mono: number } | null = null

  return {
    /** Takes in the server's time from a frame or snapshot. */
    take(at: number): void {
      const mono = sources.mono()
      const expected = base ? base.at + (mono - base.mono) : at
      const isOurs = expected >= at && expected - at < RESYNC_MS
      base = { at: isOurs ? expected : at, wall: sources.wall(), mono }
    },
    /** The server's time now [ms UTC]; this machine's while nothing has come. */
    now(): number {
      if (!base) return sources.wall()
      return base.at + Math.max(sources.wall() - base.wall, sources.mono() - base.mono)
    },
  }
}

const browserTime: TimeSources = { wall: () => Date.now(), mono: () => performance.now() }
