import { dirtyRack } from './dirtyRack.ts'
import { jetClosing } from './jetClosing.ts'
import { loadRejection } from './loadRejection.ts'
import { loadSteps } from './loadSteps.ts'
import type { Scenario } from './scenario.ts'
import { sensorLost } from './sensorLost.ts'
import { sensorStuck } from './sensorStuck.ts'
import { steadyDay } from './steadyDay.ts'

/** Every scenario, in the order in which people are offered them. */
export const scenarios: readonly Scenario[] = [
  steadyDay,
  loadSteps,
  jetClosing,
  loadRejection,
  dirtyRack,
  sensorStuck,
  sensorLost,
]

export function scenarioOf(id: string): Scenario | undefined {
  return scenarios.find((scenario) => scenario.id === id)
}
