import type { CurveModel } from '../curveModel.ts'
import { inverterLosses } from './inverterLosses.ts'
import { nozzleLaw } from './nozzleLaw.ts'
import { permanentMagnet } from './permanentMagnet.ts'
import { pipeLoss } from './pipeLoss.ts'
import { polynomial } from './polynomial.ts'
import { powerLaw } from './powerLaw.ts'
import { pumpCurve } from './pumpCurve.ts'
import { runawayLaw } from './runawayLaw.ts'
import { voltageConstant } from './voltageConstant.ts'

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
