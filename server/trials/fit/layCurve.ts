import type { FitRequest, Laid } from './laid.ts'
import { layLaw } from './layLaw.ts'
import { laySmooth } from './laySmooth.ts'
import { laws } from './models/index.ts'
import { smoothCurves } from './models/smoothCurves.ts'

/** Lays the curve, or says in a sentence why not. */
export function layCurve(request: FitRequest): Laid | { lacking: string } {
  const [law, smooth] = [laws.get(request.model), smoothCurves.get(request.model)]
  if (law) return layLaw(request, law)
  if (smooth) return laySmooth(request, smooth)
  // A run may have been saved by another version.
  return { lacking: `This version knows no curve "${request.model}": start a run to have it laid.` }
}
