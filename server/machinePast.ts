/** How far back it is known what the machine did [ms], and how finely. */
const KEPT_MS = 120_000
const STEP_MS = 500

/** What the machine was doing at a moment. */
export interface MachineThen {
  at: number
  sentence: string
}

/** The last two minutes of what the machine did, for messages that say how it was before something happened. */
export function createMachinePast(): {
  note(now: MachineThen): void
  /** The newest from before that moment; undefined where nothing is known. */
  before(at: number): MachineThen | undefined
} {
  let kept: MachineThen[] = []
  return {
    note(now) {
      const last = kept.at(-1)
      if (last && now.at >= last.at && now.at - last.at < STEP_MS) return
      kept = [...kept.filter((one) => one.at <= now.at && now.at - one.at <= KEPT_MS), now]
    },
    before: (at) => kept.findLast((one) => one.at < at),
  }
}
