import { createEvaluator, type Evaluator } from '../../server/derive/evaluate.ts'
import { createLookup, type FigureLookupById } from '../../server/derive/lookup.ts'
import { type Plan, planFigures } from '../../server/derive/plan.ts'
import type { Quantity } from '../../server/derive/quantity.ts'
import type { Reading } from '../../server/ingest/reading.ts'
import type { Plant } from '../../server/plant/plant.ts'
import type { FigureValue } from '../../server/wire/figure.ts'
import { START } from './manualClock.ts'

export interface EvaluatorBench {
  plan: Plan
  evaluator: Evaluator
  figures: FigureLookupById
  /** @param value In SI. */
  read(quantity: string, value: number, more?: Partial<Reading>): readonly Reading[]
  evaluate(at?: number): number[]
  view(figure: string): FigureValue
}

/** A plant's figures, fed by hand; all that can be derived unless `quantities` says which. */
export function evaluatorBench(plant: Plant, quantities?: readonly Quantity[]): EvaluatorBench {
  const plan = planFigures(plant, quantities)
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  return {
    plan,
    evaluator,
    figures: createLookup(plan, evaluator),
    read(quantity, value, more = {}) {
      const instrument = plant.instruments.find((one) => one.quantity === quantity)!.id
      const at = more.measuredAt ?? START
      return evaluator.take({
        plant: plant.id,
        instrument,
        quantity,
        value,
        measuredAt: at,
        receivedAt: at,
        quality: 'good',
        reasons: [],
        ...more,
      })
    },
    evaluate: (at = START) => evaluator.evaluate(at),
    view: (figure) => evaluator.view(plan.indexOf.get(figure)!),
  }
}
