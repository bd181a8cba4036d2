import { accuracyWords } from '../derive/explain.ts'
import type { LivePlant } from '../livePlant.ts'
import { VERSION } from '../version.ts'
import type { TrialView } from '../wire/trial.ts'
import type { TracePlan } from './trace/tracePlan.ts'
import type { Trial } from './trial.ts'
import { fitOf, viewTrial } from './trialView.ts'

/** What is fixed when a run begins, so that it can be understood years later. */
export interface RunMethod {
  view: TrialView
  /** Curve and what goes into it. */
  fit: { model: string; symbols: Record<string, string>; constants: Record<string, number>; best: boolean }
  /** Steadiness limits by figure. */
  steady: Record<string, number>
  /** Instruments as described in the plant file then. */
  instruments: { id: string; name: string; quantity: string; unit: string; accuracy: string }[]
  plantName: string
  version: string
  /** Only in trials that record traces. */
  trace?: TracePlan
}

/** Everything about the trial that has to be known to understand the run later. */
export function methodOf(trial: Trial, live: LivePlant): RunMethod {
  const { plan, plant } = live
  const choice = fitOf(trial, plan)
  const constants = Object.entries(choice.constants ?? {}).map(([symbol, path]): [string, number] => [
    symbol,
    plant.constants.get(path) ?? Number.NaN,
  ])
  return {
    view: viewTrial(trial, plan),
    fit: {
      model: choice.model,
      symbols: { ...choice.symbols },
      constants: Object.fromEntries(constants),
      best: choice.best ?? false,
    },
    steady: { ...trial.steady },
    instruments: plant.instruments.map((one) => ({
      id: one.id,
      name: one.name,
      quantity: one.quantity,
      unit: one.unit.code,
      accuracy: accuracyWords(one),
    })),
    plantName: plant.name,
    version: VERSION,
  }
}
