import type { Plant } from '../../server/plant/plant.ts'
import type { PumpDesign } from '../plants/pump.ts'
import type { Sources } from './given.ts'

/** H = H₀ − s·Q² through the points of the plant file, by least squares. */
export function pumpDesign({ pump }: Plant, { given, built }: Sources): PumpDesign {
  const head = given.need('pump.ratedHead')
  const discharge = given.need('pump.ratedDischarge')
  const curve = pump?.headCurve
  if (!curve) given.fault('pump.headCurve', 'nothing', 'a curve, for the simulator plays with it')
  const points = (curve ?? []).map(([q, h]) => ({ x: (q * discharge) ** 2, y: h * head }))
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length
  const covariance = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0)
  const slope = -covariance / points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0)
  const { bestDischarge = discharge, ...efficiencies } = built.pump
  return { shutOffHead: meanY + slope * meanX, slope, bestDischarge, ...efficiencies }
}
