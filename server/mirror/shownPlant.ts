import type { Agreement } from '../derive/agreement/agreement.ts'
import type { Evaluator } from '../derive/evaluate.ts'
import type { Plan } from '../derive/plan.ts'
import type { Verdict } from '../derive/verdict.ts'
import type { Plant } from '../plant/plant.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { PlantView, StateView } from '../wire/plant.ts'

/** The figures of a plant with what they are computed from, as trials and explanations read them. */
export interface FigurePlant {
  plant: Plant
  plan: Plan
  view: PlantView
  evaluator: Evaluator
}

/** A plant as the page side knows it: to look at. Whatever changes something there is asked of the watch. */
export interface ShownPlant extends FigurePlant {
  state(): StateView
  /** Whether the instruments agree. */
  agreement: Pick<Agreement, 'reply'>
  alarms(): AlarmView[]
  /** Who is suspected, as the watch has it; undefined: nobody. */
  verdict(): Verdict | undefined
  /** Wall clock of the newest reading [ms UTC]; null before the first. */
  lastReceivedAt(): number | null
}
