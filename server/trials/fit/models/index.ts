import type { CurveModel } from '../curveModel.ts'
import { permanentMagnet } from './permanentMagnet.ts'
import { polynomial } from './polynomial.ts'

/** Every curve by its id. */
export const models: ReadonlyMap<string, CurveModel> = new Map(
  [polynomial, permanentMagnet].map((model) => [model.id, model]),
)
