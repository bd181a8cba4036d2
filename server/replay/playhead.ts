/** Recorded seconds per second. */
export const SPEEDS = [0.25, 0.5, 1, 2, 4, 8, 16] as const

/** A longer silence of our own clock (a sleeping computer) does not carry the recording along [ms]. */
const LONGEST_STEP_MS = 1000

/** Where a replay stands in its recording. */
export interface Playhead {
  /** Recorded moment [ms UTC]. */
  at(): number
  isPaused(): boolean
  speed(): number
  run(): void
  pause(): void
  setSpeed(speed: number): void
  /** Held within the span. */
  jump(at: number): void
  /**
   * Moves on for the time since the last call, but not beyond `most`: what is not read yet cannot be shown. Pauses at
   * the end of the span.
   *
   * @param mono Monotonic clock [ms].
   */
  advance(mono: number, most: number): number
}

export function createPlayhead({ from, to }: { from: number; to: number }): Playhead {
  let at = from
  let speed = 1
  let isPaused = true
  let last: number | undefined
  const within = (moment: number) => Math.min(to, Math.max(from, moment))

  return {
    at: () => at,
    isPaused: () => isPaused,
    speed: () => speed,
    run() {
      if (at >= to) at = from
      isPaused = false
    },
    pause() {
      isPaused = true
    },
    setSpeed(wish) {
      speed = wish
    },
    jump(moment) {
      at = within(moment)
    },
    advance(mono, most) {
      const passed = Math.min(LONGEST_STEP_MS, mono - (last ?? mono))
      last = mono
      if (isPaused) return at
      at = Math.max(at, within(Math.min(at + passed * speed, most)))
      if (at >= to) isPaused = true
      return at
    },
  }
}
