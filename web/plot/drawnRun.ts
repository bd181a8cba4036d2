/** One run as drawn, in the units of the axes. */
export interface DrawnRun {
  points: DrawnPoint[]
  /** NaN in y: a gap. */
  curve: { x: number[]; y: number[]; low: number[]; high: number[] } | null
  best: {
    x: number
    y: number
    xLow: number
    xHigh: number
    yLow: number
    yHigh: number
    label: string
  } | null
  /** What the plant file predicts, one line for each setting; drawn for the first run only. */
  theory?: TheoryLine[]
}

/** A line of the plant file, in the units of the axes. */
export type TheoryLine = { x: number[]; y: number[] }

export interface DrawnPoint {
  number: number
  x: number
  y: number
  /** Half-widths of the 95 % intervals. */
  ux: number
  uy: number
  isKept: boolean
}

const PADDING = 0.08
/** Of the upper end: closer to zero than this, the axis begins there. */
const NEAR_ZERO = 0.35

/** Ends of both axes that hold every point with its bars, every band and the best point's label. */
export function curveRange(runs: readonly DrawnRun[]): { x: [number, number]; y: [number, number] } {
  const x = runs.flatMap(({ points, curve, theory }) => [
    ...points.flatMap((point) => [point.x - point.ux, point.x + point.ux]),
    ...(curve?.x ?? []),
    ...(theory ?? []).flatMap((line) => line.x),
  ])
  const y = runs.flatMap(({ points, curve, best, theory }) => [
    ...points.flatMap((point) => [point.y - point.uy, point.y + point.uy]),
    ...(curve ? [...curve.low, ...curve.high] : []),
    ...(best ? [best.yLow, best.yHigh] : []),
    ...(theory ?? []).flatMap((line) => line.y),
  ])
  return { x: padded(x), y: padded(y) }
}

function padded(values: readonly number[]): [number, number] {
  const known = values.filter(Number.isFinite)
  if (known.length === 0) return [0, 1]
  const low = Math.min(...known)
  const high = Math.max(...known)
  const margin = (high - low || Math.abs(high) * 0.1 || 1) * PADDING
  return [low >= 0 && low < NEAR_ZERO * high ? 0 : low - margin, high + margin]
}
