import { type Systematic, systematicOf } from '../../statistics/uncertainty.ts'
import type { BestPoint, FittedParameter } from '../../wire/findings.ts'
import type { PreparedCurve, Row } from './curveModel.ts'

/** Everything that a fit needs; plain values, so that it can go to another thread. */
export interface FitRequest {
  model: string
  points: FitPoint[]
  /** Constants by symbol. */
  constants: Record<string, number>
  /** Whether the maximum is wanted. */
  best: boolean
  /** The same seed gives the same intervals. */
  seed: number
  /** Nothing between the settings of the points can be set: the best point is one of them. */
  isStepped?: boolean
  /** The points scatter along the abscissa as well: both scatters weigh. */
  inBoth?: boolean
}

export interface FitPoint {
  number: number
  /** Means by symbol: x, y and others. */
  means: Record<string, number>
  /** By instrument, what its accuracy does to each symbol; the same sign at every point. */
  typeB: Record<string, Record<string, number>>
  /** By instrument, which share of that is of rectangular limits; absent: none. */
  flat?: Record<string, number>
  /** Standard deviation of each mean from scatter, by symbol; needed where both axes scatter. */
  scatter?: Record<string, number>
}

/** A curve that lies through points, with what is needed to say how well. */
export interface Laid {
  request: FitRequest
  formula: string
  rows: Row[]
  parameters: FittedParameter[]
  freedom: number
  /** Scatter of the points about the curve, along y. */
  residuals: number[]
  deviation: number
  /** Instruments that it leans on, and which share of each one's uncertainty has rectangular limits. */
  instruments: ReadonlyMap<string, number>
  /** As laid, or as it would be if `instrument` were off by one standard uncertainty. */
  heightsAt(places: readonly Row[], instrument?: string): number[]
  /** Standard uncertainties of the heights, from scatter. */
  scatterAt(places: readonly Row[]): number[]
  /** Its highest place; absent of a law, whose form would be taken for granted. */
  best?(): BestPoint
}

/** level: off alike at all points. tilt: off one way at one end of the points and the other way at the other. */
export interface Shifted {
  level: number[]
  tilt: number[]
}

/** A law through the points. */
export interface LaidLaw {
  request: FitRequest
  curve: PreparedCurve
  rows: Row[]
  parameters: number[]
  freedom: number
  residuals: number[]
  /** Of the parameters, from scatter. */
  covariance: number[][]
  /** By instrument: parameters as they would be if it were off by one standard uncertainty. */
  shifted: Map<string, Shifted>
}

const GRID = 60

export function rowsOf({ points, constants }: FitRequest): Row[] {
  return points.map((point) => ({ ...constants, ...point.means }))
}

/**
 * The points as they would be if one instrument were off.
 *
 * @param share Of its uncertainty, at each point; default all of it.
 */
export function movedBy(
  instrument: string,
  request: FitRequest,
  share: (row: Row) => number = () => 1,
): Row[] {
  return rowsOf(request).map((row, i) => {
    const shifts = Object.entries(request.points[i]!.typeB[instrument] ?? {})
    const off = share(row)
    return {
      ...row,
      ...Object.fromEntries(shifts.map(([symbol, shift]) => [symbol, row[symbol]! + off * shift])),
    }
  })
}

export function instrumentsOf({ points }: FitRequest): Map<string, number> {
  const instruments = new Set(points.flatMap((point) => Object.keys(point.typeB)))
  return new Map(
    [...instruments].map((one) => [one, Math.max(...points.map(({ flat }) => flat?.[one] ?? 0))]),
  )
}

/** What the instruments do to a number, each off in turn. */
export function systematicFrom(
  instruments: ReadonlyMap<string, number>,
  changeBy: (instrument: string) => number,
): Systematic {
  return systematicOf(
    [...instruments].map(([instrument, flat]) => {
      const standard = changeBy(instrument)
      return { standard, rectangular: standard * flat }
    }),
  )
}

/** In the words of a run whose points are too few. */
export function tooFew(count: number, fewest: number): { lacking: string } {
  return { lacking: `${count} of at least ${fewest} points that the curve needs.` }
}

export function column(rows: readonly Row[], symbol: string): number[] {
  return rows.map((row) => row[symbol]!)
}

/** Places along the abscissa; everything else is the mean of the points. */
export function gridOf(rows: readonly Row[]): Row[] {
  const x = column(rows, 'x')
  const [low, high] = [Math.min(...x), Math.max(...x)]
  const middle = Object.fromEntries(
    Object.keys(rows[0]!).map((symbol) => [
      symbol,
      rows.reduce((sum, row) => sum + row[symbol]!, 0) / rows.length,
    ]),
  )
  return Array.from({ length: GRID }, (_, i) => ({ ...middle, x: low + ((high - low) * i) / (GRID - 1) }))
}
