import { figureOf, type Units } from '../../../server/wire/amounts.ts'
import { bestRange, bestRemark, bestSettings, isRange } from '../../../server/wire/bestWords.ts'
import { type DrawnRun, drawBest, drawCurve, drawLine, drawPoint } from '../../../server/wire/drawn.ts'
import type { BestPoint, TheoryView, TrialResult } from '../../../server/wire/findings.ts'
import type { PointRunReply, PointTrialView } from '../../../server/wire/trial.ts'
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
  const [xId, ordinate] = axesOf(reply.trial, kind)
  const [x, y] = [xId, other ?? ordinate].map((id) => figureOf(reply.trial, id))
  if (!x || !y) return { points: [], curve: null }
  const axes = [x, y] as const
  const points = reply.points.flatMap((point) => drawPoint(point, axes))
  const theory = other === null ? theoryOf(reply, kind) : null
  const beside = theory ? { theory: theory.lines.map((line) => drawLine(line, axes)) } : {}
  const result = other === null ? resultOf(reply, kind) : null
  if (!result?.isFitted) return { points, curve: null, ...beside }
  const { curve, best } = result
  const label = best && `best: ${amountWithin(y, best.y, [best.yLow, best.yHigh])}`
  return { points, curve: drawCurve(curve, axes), best: best && drawBest(best, axes, label!), ...beside }
}

function unitsOf(trial: PointTrialView, id: string | null): Units {
  return figureOf(trial, id) ?? { unit: '1', viewUnit: '1' }
}

/** "70.5 % (95 %: 69.7 to 71.3) at 2.79 L/s (95 %: 2.69 to 2.90).", "… between 2.7 and 3.6 L/s." with what to add, or "… with 3 jets." */
export function bestWords(best: BestPoint, trial: PointTrialView, kind: Kind): string {
  const [x, y] = axesOf(trial, kind).map((id) => unitsOf(trial, id)) as [Units, Units]
  const ends = [best.xLow, best.xHigh] as const
  const height = amountWithEnds(y, best.y, [best.yLow, best.yHigh])
  const { isStepped, suggested } = trial.vary
  if (isStepped && kind === 'actual') return `${height} ${bestSettings(best, suggested)}`
  const place = best.isAtEnd
    ? `at ${amountWithin(x, best.x, ends)}`
    : isRange(best)
      ? bestRange(best, x)
      : `at ${amountWithEnds(x, best.x, ends)}`
  return [`${height} ${place}.`, bestRemark(best, x) ?? ''].join(' ').trim()
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
