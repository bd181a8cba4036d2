import type { CurveModel } from '../curveModel.ts'
import { nozzleLaw, pipeLoss, pumpCurve, voltageConstant } from './linearLaws.ts'
import { inverterLosses, permanentMagnet, runawayLaw } from './nonlinearLaws.ts'
import { polynomial } from './polynomial.ts'
import { powerLaw } from './powerLaw.ts'

/** Every curve by its id. */
export const models: ReadonlyMap<string, CurveModel> = new Map(
  [
    polynomial,
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
