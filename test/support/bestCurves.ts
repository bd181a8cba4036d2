import { createRandom } from '../../server/statistics/bootstrap.ts'
import { describeCurve } from '../../server/trials/fit/fitCurve.ts'
import type { FitRequest } from '../../server/trials/fit/laid.ts'
import { layCurve } from '../../server/trials/fit/layCurve.ts'
import type { BestPoint } from '../../server/wire/findings.ts'
import { drawMachine } from './drawnMachine.ts'
import { along } from './drawnTruth.ts'
import { createNormal } from './normal.ts'

/** A curve whose best point is known, and the range that people take points in. */
export interface BestCurve {
  model: 'smooth' | 'runnerEfficiency'
  height(x: number): number
  from: number
  to: number
}

const smooth = { model: 'smooth' as const, from: 0.25, to: 1.05 }
const bump = (x: number, at: number) => Math.exp(-(((x - at) / 0.14) ** 2))

/**
 * Efficiencies over a share of full discharge, over speed for "torque law". Shapes are common practice, numbers our own:
 * round, sharp and roof-like tops, mild and strong asymmetry, an impulse wheel's flat top, a Francis curve whose curvature
 * jumps at its top (third power before, square after: the form of part-load curves in feasibility studies), tops near and
 * beyond the end, and two tops.
 */
export const bestCurves: Readonly<Record<string, BestCurve>> = {
  round: { ...smooth, height: (x) => 0.8 - 0.6 * (x - 0.7) ** 2 },
  sharp: { ...smooth, from: 0.4, to: 1.1, height: (x) => 0.88 - 3 * (x - 0.8) ** 2 },
  roof: { ...smooth, from: 0.3, to: 1.1, height: (x) => 0.905 - 0.9 * Math.hypot(x - 0.75, 0.05) },
  'mildly asymmetric': {
    ...smooth,
    to: 1.1,
    height: (x) => 0.82 - 0.7 * (x - 0.72) ** 2 - 0.9 * (x - 0.72) ** 3,
  },
  asymmetric: {
    ...smooth,
    from: 0.2,
    to: 1.1,
    height: (x) => 0.85 * (1 - Math.exp(-6 * x)) - 0.28 * x ** 3.5,
  },
  'flat top': { ...smooth, from: 0.2, height: (x) => 0.86 * (1 - Math.exp(-9 * x)) - 0.02 * x ** 2 },
  'Francis, kink': {
    ...smooth,
    from: 0.35,
    height: (x) =>
      x <= 0.8 ? 0.9 * (1 - ((1.25 * (0.8 - x)) / 0.8) ** 3) : 0.9 - 0.07 * ((x - 0.8) / 0.2) ** 2,
  },
  'torque law': {
    model: 'runnerEfficiency',
    from: 0.55,
    to: 1.2,
    height: (x) => 0.88 * x * (1 - (x / 1.8) ** 1.5),
  },
  'top at the end': { ...smooth, height: (x) => 0.82 - 0.6 * (x - 1) ** 2 },
  'cut off': { ...smooth, height: (x) => 0.82 - 0.6 * (x - 1.2) ** 2 },
  'two tops, nearly even': {
    ...smooth,
    from: 0.2,
    height: (x) => 0.6 + 0.2 * bump(x, 0.4) + 0.205 * bump(x, 0.85),
  },
  'two tops': { ...smooth, from: 0.2, height: (x) => 0.6 + 0.18 * bump(x, 0.4) + 0.22 * bump(x, 0.85) },
}

/** Log-normal and logistic were never looked at while the method was made; the kink was, and the method was widened for it. */
export const otherCurves: Readonly<Record<string, BestCurve>> = {
  'log-normal': { ...smooth, height: (x) => 0.85 * Math.exp(-(Math.log(x / 0.7) ** 2) / 0.72) },
  'logistic rise, plateau': {
    ...smooth,
    from: 0.2,
    height: (x) => 0.84 / (1 + Math.exp(-14 * (x - 0.35))) - 0.04 * x ** 2,
  },
  kink: { ...smooth, from: 0.3, height: (x) => (x <= 0.7 ? 0.9 - 0.5 * (0.7 - x) : 0.9 - 0.25 * (x - 0.7)) },
}

/** Efficiency over the share of full discharge of a machine drawn at random: straight lines between the points of its curve. */
export function drawnCurve(seed: number): BestCurve {
  const curve = drawMachine(seed).plant.turbine!.efficiencyCurve!.map(([x, y]): [number, number] => [x, y])
  const [from, to] = [Math.max(0.3, curve[0]![0]), curve.at(-1)![0]]
  return { model: 'smooth', from, to, height: (x) => along(curve, x) }
}

/** Highest place in the range, on a fine grid: from where to where, since a top may be level. */
function trueBest({ height, from, to }: BestCurve): { from: number; to: number; y: number } {
  const places = Array.from({ length: 20_001 }, (_, i) => from + ((to - from) * i) / 20_000)
  const heights = places.map(height)
  const y = heights.reduce((best, one) => Math.max(best, one))
  const highest = places.filter((_, i) => heights[i]! >= y * (1 - 1e-9))
  return { from: highest[0]!, to: highest.at(-1)!, y }
}

export interface Cell {
  /** Share of the runs whose interval holds the true place, and height. */
  place: number
  height: number
  /** Share of the runs in which the points could tell: nothing is asked to be added at an end or between two tops. */
  told: number
  /** Mean width of the place in those, of the range. */
  width: number
}

/** `runs` sets of `count` points with a scatter of `scatter`, at places that are even but for a quarter of a step. */
export function bestCell(
  curve: BestCurve | ((run: number) => BestCurve),
  { count, scatter, runs, seed = 1 }: { count: number; scatter: number; runs: number; seed?: number },
): Cell {
  const curveOf = (run: number) => (typeof curve === 'function' ? curve(run) : curve)
  const found = Array.from({ length: runs }, (_, run) => {
    const own = curveOf(run)
    const best = bestOf(own, { count, scatter, seed: seed + run })
    return { best, truth: trueBest(own), range: own.to - own.from }
  })
  const share = (holds: (one: (typeof found)[number]) => boolean) => found.filter(holds).length / runs
  const told = found.filter(({ best }) => !best.isOpen && best.parts.length === 1)
  return {
    place: share(({ best, truth }) => best.xLow <= truth.to && truth.from <= best.xHigh),
    height: share(({ best, truth }) => best.yLow <= truth.y && truth.y <= best.yHigh),
    told: told.length / runs,
    width: told.reduce((sum, { best, range }) => sum + (best.xHigh - best.xLow) / range, 0) / told.length,
  }
}

function bestOf(
  { model, height, from, to }: BestCurve,
  { count, scatter, seed }: { count: number; scatter: number; seed: number },
): BestPoint {
  const random = createRandom(1000 * seed + count)
  const normal = createNormal(random)
  const points: FitRequest['points'] = Array.from({ length: count }, (_, i) => {
    const shift = i === 0 || i === count - 1 ? 0 : 0.5 * (random() - 0.5)
    const x = from + ((to - from) * (i + shift)) / (count - 1)
    return { number: i + 1, means: { x, y: height(x) + scatter * normal() }, typeB: {} }
  })
  const laid = layCurve({ model, constants: {}, best: true, seed, points })
  if ('lacking' in laid) throw new Error(laid.lacking)
  return describeCurve(laid).best!
}
