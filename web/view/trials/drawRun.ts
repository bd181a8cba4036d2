import { figureOf, type Units, viewOf } from '../../../server/wire/amounts.ts'
import type { BestPoint, TheoryView, TrialResult } from '../../../server/wire/findings.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import type { PointRunReply, PointTrialView } from '../../../server/wire/trial.ts'
import type { UnitView } from '../../../server/wire/units.ts'
import type { DrawnPoint, DrawnRun } from '../../plot/drawnRun.ts'
import { amountWithEnds, amountWithin } from './trialText.ts'

/** actual: as measured. unit: reduced to a head of 1 m and a diameter of 1 m. */
export type Kind = 'actual' | 'unit'

/** Figures of the two axes. */
export function axesOf(trial: PointTrialView, kind: Kind): [x: string | null, y: string | null] {
  return kind === 'unit' ? [trial.unitAbscissa, trial.unitOrdinate] : [trial.abscissa, trial.ordinate]
}

/** What the points say together in these quantities. */
export function resultOf({ result, unitResult }: PointRunReply, kind: Kind): TrialResult | null {
  return kind === 'unit' ? unitResult : result
}

/** What the plant file predicts in these quantities. */
export function theoryOf({ theory, unitTheory }: PointRunReply, kind: Kind): TheoryView | null {
  return kind === 'unit' ? unitTheory : theory
}

/**
 * A run in the units of the axes.
 *
 * @param other A figure to draw in place of the ordinate: its points only, the curve belongs to the ordinate.
 */
export function drawRun(reply: PointRunReply, kind: Kind, other: string | null): DrawnRun {
  const { trial, points } = reply
  const result = other === null ? resultOf(reply, kind) : null
  const [xId, ordinate] = axesOf(trial, kind)
  const yId = other ?? ordinate
  const x = axisOf(trial, xId)
  const y = axisOf(trial, yId)
  const theory = other === null ? theoryOf(reply, kind) : null
  const lines = theory?.lines.map((line) => ({ x: line.x.map(x.value), y: line.y.map(y.value) }))
  const beside = lines ? { theory: lines } : {}
  const drawn = points.flatMap((point) => drawPoint(point, [xId, yId], [x, y]))
  if (!result?.isFitted) return { points: drawn, curve: null, best: null, ...beside }
  const { curve, best } = result
  return {
    ...beside,
    points: drawn,
    curve: {
      x: curve.x.map(x.value),
      y: curve.y.map(y.value),
      low: curve.low.map(y.value),
      high: curve.high.map(y.value),
    },
    best: best && {
      x: x.value(best.x),
      y: y.value(best.y),
      xLow: x.value(best.xLow),
      xHigh: x.value(best.xHigh),
      yLow: y.value(best.yLow),
      yHigh: y.value(best.yHigh),
      label: `best: ${amountWithin(unitsOf(trial, yId), best.y, [best.yLow, best.yHigh])}`,
    },
  }
}

function unitsOf(trial: PointTrialView, id: string | null): Units {
  return figureOf(trial, id) ?? { unit: '1', viewUnit: '1' }
}

function axisOf(trial: PointTrialView, id: string | null): UnitView {
  return viewOf(unitsOf(trial, id))
}

function drawPoint(
  point: TrialPoint,
  ids: readonly (string | null)[],
  [x, y]: [UnitView, UnitView],
): DrawnPoint[] {
  const [px, py] = ids.map((id) => figureOf(point, id))
  if (!px || !py) return []
  return [
    {
      number: point.number,
      x: x.value(px.mean),
      y: y.value(py.mean),
      ux: x.difference(px.u95),
      uy: y.difference(py.u95),
      isKept: point.verdict === 'kept',
    },
  ]
}

const OPEN = ' The interval ends where the points end: more points beyond would tell.'

/** "70.5 % (95 %: 69.7 to 71.3) at 2.79 L/s (95 %: 2.69 to 2.90)." */
export function bestWords(best: BestPoint, trial: PointTrialView, kind: Kind): string {
  const [x, y] = axesOf(trial, kind).map((id) => unitsOf(trial, id)) as [Units, Units]
  const ends = [best.xLow, best.xHigh] as const
  const height = amountWithEnds(y, best.y, [best.yLow, best.yHigh])
  return best.isAtEnd
    ? `${height} at ${amountWithin(x, best.x, ends)}, the end of the range. The true one may be beyond: go further.`
    : `${height} at ${amountWithEnds(x, best.x, ends)}.${best.isOpen ? OPEN : ''}`
}

/** What is drawn with one colour and shape. */
export interface NamedRun {
  name: string
  run: PointRunReply
}

/** A run as one curve, or as one for each of its series; points of no series come last, without a curve. */
export function seriesRuns(reply: PointRunReply): NamedRun[] {
  const { run, findings, points } = reply
  const own = [run.name, run.className, run.year].filter((text) => text !== '').join(', ')
  if (findings.series.length === 0) return [{ name: own, run: reply }]
  const named = findings.series.map((series) => ({
    name: series.name,
    run: {
      ...reply,
      result: series.result,
      points: points.filter((point) => series.points.includes(point.number)),
    },
  }))
  const placed = new Set(findings.series.flatMap((series) => series.points))
  const rest = points.filter((point) => !placed.has(point.number))
  if (rest.length === 0) return named
  const lacking: PointRunReply['result'] = { isFitted: false, lacking: '' }
  return [...named, { name: 'In no series', run: { ...reply, result: lacking, points: rest } }]
}
