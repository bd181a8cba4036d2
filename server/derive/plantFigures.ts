import type { AgreementReply } from '../wire/agreement.ts'
import type { StateView } from '../wire/plant.ts'
import { createAgreement } from './agreement/agreement.ts'
import { createEvaluator, type Evaluator } from './evaluate.ts'
import { createLookup } from './lookup.ts'
import { createMachineState, type MachineMemory } from './machineState.ts'
import type { Plan } from './plan.ts'

/** The figures of one plant and what is said of them to whoever looks: what the machine does, whether instruments agree. */
export interface PlantFigures {
  evaluator: Evaluator
  /** Brings everything up to `now`; returns the indexes of the figures that changed. */
  evaluate(now: number): number[]
  state(): StateView
  agreement: { reply(): AgreementReply }
}

/** @param machine What the machine was doing before the first evaluation, where that is known. */
export function createPlantFigures(plan: Plan, machine?: MachineMemory): PlantFigures {
  const evaluator = createEvaluator(plan)
  const state = createMachineState(plan, createLookup(plan, evaluator), machine)
  const agreement = createAgreement(plan, evaluator)
  return {
    evaluator,
    agreement,
    evaluate(now) {
      const changed = evaluator.evaluate(now)
      agreement.tick(now)
      state.tick(now)
      return changed
    },
    state: () => ({ ...state.state(), agreement: agreement.line() }),
  }
}
