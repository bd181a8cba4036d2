import { figureOf } from '../../wire/amounts.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import type { FitMethod, PointMethod } from '../runMethod.ts'
import type { FitPoint, FitRequest } from './laid.ts'

/** The curve as measured, or in quantities that do not depend on the head. */
export type CurveKind = 'actual' | 'unit'

export interface CurveWish {
  /** Seeds the intervals, so that they stay the same. */
  run: number
  kind: CurveKind
  method: PointMethod
  points: readonly TrialPoint[]
}

/** What goes to the thread that lays the curve: the kept points that have every figure the curve needs. */
export function fitRequestOf({ run, kind, method: { view, fit }, points }: CurveWish): FitRequest {
  const isUnit = kind === 'unit' && view.unitAbscissa !== null && view.unitOrdinate !== null
  const axes = isUnit
    ? { x: view.unitAbscissa!, y: view.unitOrdinate! }
    : { x: view.abscissa, y: view.ordinate }
  const symbols = { ...axes, ...fit.symbols }
  return {
    model: fit.model,
    constants: fit.constants,
    best: fit.best,
    seed: run,
    inBoth: fit.inBoth ?? false,
    isStepped: view.vary.isStepped,
    points: points
      .filter((point) => point.verdict === 'kept')
      .flatMap((point) => pointOf(point, symbols).map((one) => withDoubts(one, fit.doubts ?? {}))),
  }
}

function pointOf(point: TrialPoint, symbols: Record<string, string>): FitPoint[] {
  const bound = Object.entries(symbols).map(([symbol, id]): [string, PointFigure | undefined] => [
    symbol,
    figureOf(point, id),
  ])
  if (bound.some(([, figure]) => figure === undefined)) return []
  const typeB: FitPoint['typeB'] = {}
  for (const [symbol, figure] of bound)
    for (const [instrument, share] of Object.entries(figure!.contributions))
      typeB[instrument] = { ...typeB[instrument], [symbol]: share }
  const flat = shareOfRectangles(bound.map(([, figure]) => figure!))
  const means = Object.fromEntries(bound.map(([symbol, figure]) => [symbol, figure!.mean]))
  const scatter = Object.fromEntries(bound.map(([symbol, figure]) => [symbol, scatterOf(figure!)]))
  return [{ number: point.number, means, typeB, flat, scatter }]
}

/** Constants of the curve that err, with the same error at every point. */
function withDoubts(point: FitPoint, doubts: NonNullable<FitMethod['doubts']>): FitPoint {
  const typeB = { ...point.typeB }
  const flat = { ...point.flat }
  for (const [symbol, { source, standard, isRectangular }] of Object.entries(doubts)) {
    typeB[source] = { ...typeB[source], [symbol]: standard }
    if (isRectangular) flat[source] = 1
  }
  return { ...point, typeB, flat }
}

/** By instrument, how much of its standard uncertainty is that of rectangular limits; the same in all figures. */
function shareOfRectangles(figures: readonly PointFigure[]): Record<string, number> {
  return Object.fromEntries(
    figures.flatMap(({ contributions, rectangular = {} }) =>
      Object.entries(rectangular).map(([source, part]) => [source, part / Math.abs(contributions[source]!)]),
    ),
  )
}

/** A typed value has no scatter of its own: what the person says of it stands in. */
function scatterOf({ id, typeA, contributions }: PointFigure): number {
  return typeA > 0 ? typeA : Math.abs(contributions[`by hand: ${id}`] ?? 0)
}
