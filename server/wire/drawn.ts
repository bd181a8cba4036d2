import { figureOf, type Units, viewOf } from './amounts.ts'
import type { BestPoint, FittedCurve, TheoryView } from './findings.ts'
import type { TrialPoint } from './point.ts'

/** A run of points as it is drawn on the page and in the pack, in the units of the axes. */

export interface DrawnPoint {
  x: number
  y: number
  /** Half-widths of the 95 % intervals; 0 draws no bar. */
  ux: number
  uy: number
  isKept: boolean
}

/** A curve with its band. NaN in y: a gap. */
export type DrawnCurve = FittedCurve['curve']
export type TheoryLine = TheoryView['lines'][number]
export type DrawnBest = Pick<BestPoint, 'x' | 'y' | 'yLow' | 'yHigh' | 'parts'> & { label: string }

export interface DrawnRun {
  points: readonly DrawnPoint[]
  curve: DrawnCurve | null
  best?: DrawnBest | null
  /** What the plant file predicts, one line for each setting; drawn for the first run only. */
  theory?: readonly TheoryLine[]
}

/** The figures of the two axes. */
export type Axes<Axis = Units & { id: string }> = readonly [x: Axis, y: Axis]

/** None where the point lacks the figure of an axis. */
export function drawPoint(point: TrialPoint, axes: Axes): DrawnPoint[] {
  const [px, py] = axes.map(({ id }) => figureOf(point, id))
  if (!px || !py) return []
  const [x, y] = viewsOf(axes)
  const bars = { ux: x.difference(px.u95), uy: y.difference(py.u95) }
  return [{ x: x.value(px.mean), y: y.value(py.mean), ...bars, isKept: point.verdict === 'kept' }]
}

export function drawCurve({ low, high, ...line }: DrawnCurve, axes: Axes): DrawnCurve {
  const [, { value }] = viewsOf(axes)
  return { ...drawLine(line, axes), low: low.map(value), high: high.map(value) }
}

export function drawLine(line: TheoryLine, axes: Axes): TheoryLine {
  const [x, y] = viewsOf(axes)
  return { x: line.x.map(x.value), y: line.y.map(y.value) }
}

export function drawBest(best: BestPoint, axes: Axes, label: string): DrawnBest {
  const [x, y] = viewsOf(axes)
  return {
    x: x.value(best.x),
    y: y.value(best.y),
    parts: best.parts.map(([low, high]) => [x.value(low), x.value(high)]),
    yLow: y.value(best.yLow),
    yHigh: y.value(best.yHigh),
    label,
  }
}

/** Everything that has to be seen along one axis. */
export function valuesAlong(axis: 'x' | 'y', { points, curve, best, theory = [] }: DrawnRun): number[] {
  const half = axis === 'x' ? 'ux' : 'uy'
  return [
    ...points.flatMap((one) => [one[axis] - one[half], one[axis] + one[half]]),
    ...(!curve ? [] : axis === 'x' ? curve.x : [...curve.low, ...curve.high]),
    ...(!best ? [] : axis === 'x' ? best.parts.flat() : [best.yLow, best.yHigh]),
    ...theory.flatMap((line) => line[axis]),
  ]
}

/** Closer to zero than this share of the far end, an axis begins there if it may. */
const NEAR_ZERO = 0.35

/** Ends of an axis with a share of room beyond the values; never empty. */
export function endsOf(
  values: readonly number[],
  { room, isFromZero = false }: { room: number; isFromZero?: boolean },
): [low: number, high: number] {
  const known = values.filter(Number.isFinite)
  if (known.length === 0) return [0, 1]
  const low = known.reduce((a, b) => Math.min(a, b))
  const high = known.reduce((a, b) => Math.max(a, b))
  const margin = high > low ? (high - low) * room : Math.abs(high) * 0.1 || 1
  return [isFromZero && low >= 0 && low < NEAR_ZERO * high ? 0 : low - margin, high + margin]
}

function viewsOf([x, y]: Axes) {
  return [viewOf(x), viewOf(y)] as const
}
