import { type Agreement, createAgreement } from '../../server/derive/agreement/agreement.ts'
import { createLivePlant, type LivePlant, type LivePlantOptions } from '../../server/livePlant.ts'
import type { ShownPlant } from '../../server/mirror/shownPlant.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { memoryJournal } from './alarmBench.ts'

/** What the watch has of a plant and what the page side shows of it, in one. */
export type TestPlant = Omit<LivePlant, 'state'> & ShownPlant & { agreement: Agreement }

/** A live plant without a server around it: journal and counters end with the test; give whatever it shall watch. */
export function livePlantOf(plant: Plant, more: Partial<LivePlantOptions> = {}): TestPlant {
  const live = createLivePlant(plant, {
    journal: memoryJournal(),
    counterStore: { load: () => undefined, days: () => [], quarters: () => [], save: () => true },
    mono: () => 0,
    onTransition: () => {},
    ...more,
  })
  const agreement = createAgreement(live.plan, live.evaluator)
  return {
    ...live,
    agreement,
    alarms: live.board.views,
    tick(now) {
      const changed = live.tick(now)
      agreement.tick(now)
      return changed
    },
    state: () => ({ ...live.state(), agreement: agreement.line() }),
  }
}
