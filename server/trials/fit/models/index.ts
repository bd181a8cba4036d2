import type { CurveModel } from '../curveModel.ts'
import { nozzleLaw, pipeLoss, pumpCurve, voltageConstant } from './linearLaws.ts'
import { inverterLosses, permanentMagnet, runawayLaw } from './nonlinearLaws.ts'
import { powerLaw } from './powerLaw.ts'
import { smoothCurves } from './smoothCurves.ts'

/** Every law by its id. */
export const laws: ReadonlyMap<string, CurveModel> = new Map(
  [
    permanentMagnet,
    voltageConstant,
    runawayLaw,
    nozzleLaw,
    pumpCurve,
    inverterLosses,
    pipeLoss,
    powerLaw,
  ].map((model) => [model.id, model]),
)

/** The formula of a curve as people read it. */
export function formulaOf(id: string): string {
  return (laws.get(id) ?? smoothCurves.get(id))!.formula
}
