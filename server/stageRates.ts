import type { Clock } from './clock.ts'
import type { HealthReply } from './wire/replies.ts'

type StageView = HealthReply['stages'][number]
/** What a stage has done since the start. */
export type Stage = Omit<StageView, 'perSecond'>

/** How quickly stages work, over the last second. */
export interface StageRates {
  /** Call once a second. */
  tick(): void
  stages(): StageView[]
}

export function createStageRates(clock: Clock, totalsNow: () => Stage[]): StageRates {
  let totals = totalsNow()
  let before = totals
  let elapsed = 1
  let tickedAt = clock.mono()
  return {
    tick() {
      const now = clock.mono()
      elapsed = Math.max(0.001, (now - tickedAt) / 1000)
      tickedAt = now
      before = totals
      totals = totalsNow()
    },
    stages: () =>
      totalsNow().map((stage, i) => ({
        ...stage,
        perSecond: Math.max(0, ((totals[i]?.total ?? 0) - (before[i]?.total ?? 0)) / elapsed),
      })),
  }
}
