import type { BestPoint, TheoryView, TrialResult } from '../../../server/wire/findings.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import type { PointRunReply, PointTrialView } from '../../../server/wire/trial.ts'
import type { UnitView } from '../../../server/wire/units.ts'
import { unitView } from '../../../server/wire/units.ts'
import type { DrawnPoint, DrawnRun } from '../../plot/drawnRun.ts'

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
      label: `best: ${numberWith(y, best.y, (best.yHigh - best.yLow) / 2)}`,
    },
  }
}

function axisOf(trial: PointTrialView, id: string | null): UnitView {
  const figure = trial.figures.find((one) => one.id === id)
  return unitView(figure?.unit ?? '1', figure?.viewUnit ?? '1')
}

function drawPoint(
  { number, verdict, figures }: TrialPoint,
  ids: readonly (string | null)[],
  [x, y]: [UnitView, UnitView],
): DrawnPoint[] {
  const [px, py] = ids.map((id) => figures.find((figure) => figure.id === id))
  if (!px || !py) return []
  return [
    {
      number,
      x: x.value(px.mean),
      y: y.value(py.mean),
      ux: x.difference(px.u95),
      uy: y.difference(py.u95),
      isKept: verdict === 'kept',
    },
  ]
}

/** "70.5 % (69.7 to 71.3) at 2.79 L/s (2.69 to 2.90)". */
const OPEN = ' The interval ends where the points end: more points beyond would tell.'

export function bestWords(best: BestPoint, trial: PointTrialView, kind: Kind): string {
  const [xId, yId] = axesOf(trial, kind)
  const x = axisOf(trial, xId)
  const y = axisOf(trial, yId)
  const words = (unit: UnitView, value: number, [low, high]: [number, number]) => {
    const u95 = unit.difference((high - low) / 2)
    const text = (one: number) => formatNumber(unit.value(one), { u95 }).text
    return `${`${text(value)}\u00a0${unit.print}`.trim()} (95 %: ${text(low)} to ${text(high)})`
  }
  const height = words(y, best.y, [best.yLow, best.yHigh])
  const place = formatNumber(x.value(best.x), { u95: x.difference((best.xHigh - best.xLow) / 2) }).text
  return best.isAtEnd
    ? `${height} at ${`${place}\u00a0${x.print}`.trim()}, the end of the range. The true one may be beyond: go further.`
    : `${height} at ${words(x, best.x, [best.xLow, best.xHigh])}.${best.isOpen ? OPEN : ''}`
}

function numberWith(unit: UnitView, value: number, half: number): string {
  return `${formatNumber(unit.value(value), { u95: unit.difference(half) }).text} ${unit.print}`.trim()
}
