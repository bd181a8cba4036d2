import type { PointFigure, TrialPoint } from '../../wire/trial.ts'
import type { RunMethod } from '../runMethod.ts'
import type { FitPoint, FitRequest } from './fitCurve.ts'

/** What goes to the thread that lays the curve: the kept points that have every figure the curve needs. */
export function fitRequestOf(
  run: number,
  { view, fit }: RunMethod,
  points: readonly TrialPoint[],
): FitRequest {
  const symbols = { x: view.abscissa, y: view.ordinate, ...fit.symbols }
  return {
    model: fit.model,
    constants: fit.constants,
    best: fit.best,
    seed: run,
    points: points.filter((point) => point.verdict === 'kept').flatMap((point) => pointOf(point, symbols)),
  }
}

function pointOf({ number, figures }: TrialPoint, symbols: Record<string, string>): FitPoint[] {
  const bound = Object.entries(symbols).map(([symbol, id]): [string, PointFigure | undefined] => [
    symbol,
    figures.find((figure) => figure.id === id),
  ])
  if (bound.some(([, figure]) => figure === undefined)) return []
  const typeB: FitPoint['typeB'] = {}
  for (const [symbol, figure] of bound)
    for (const [instrument, share] of Object.entries(figure!.contributions))
      typeB[instrument] = { ...typeB[instrument], [symbol]: share }
  const means = Object.fromEntries(bound.map(([symbol, figure]) => [symbol, figure!.mean]))
  return [{ number, means, typeB }]
}
