import type { Plant } from '../../server/plant/plant.ts'
import type { EfficiencyDesign } from '../plants/lossCurve.ts'
import type { Sources } from './given.ts'

/** Losses without load as a share of rated power, where nothing else is known (common practice, no source). */
const NO_LOAD_SHARE = 0.02

export function noLoadLossOf({ given, built }: Sources): number {
  return built.generator.noLoadLoss ?? NO_LOAD_SHARE * given.need('generator.ratedPower')
}

/** What the data sheet says of the losses; its last point is the rated one. */
export function lossesOf({ generator }: Plant, sources: Sources): EfficiencyDesign {
  const { given } = sources
  if (!generator?.efficiencyCurve)
    given.fault('generator.efficiencyCurve', 'nothing', 'a curve, for the simulator plays with it')
  return {
    ratedOutput: given.need('generator.ratedPower'),
    curve: generator?.efficiencyCurve ?? [[1, 1]],
    noLoadLoss: noLoadLossOf(sources),
  }
}
