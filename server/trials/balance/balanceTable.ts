import { NORMAL_95 } from '../../statistics/normal.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { Amount, BalanceRow, BalanceTable } from '../../wire/findings.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import { isConstantSource } from '../constants.ts'

/** One stage of the chain: figures of the powers, of the loss, and the relation that says what was expected. */
export interface Stage {
  id: string
  name: string
  in: string
  /** Null: what enters less the loss, where the stage feeds several. */
  out: string | null
  loss: string
  residual: string | null
}

/** A stage as a run keeps it: with how well the curve of the plant file is known, as a share of what leaves. */
export interface StageRule extends Stage {
  share: number
}

/**
 * The power balance at every kept point, from figures that the server derives anyway: the loss of each stage, and the
 * residual between what the curve of the plant file lets expect and what is measured. A stage closes when it is within the
 * 95 % uncertainty of scatter, instruments and curve together.
 *
 * Source: conservation of energy; JCGM 100:2008, 5.2 (instruments on both sides count once, with their sign).
 */
export function balanceTable(stages: readonly StageRule[], points: readonly TrialPoint[]): BalanceTable {
  const kept = points.filter((point) => point.verdict === 'kept')
  const missing = stages.flatMap((stage) => lackOf(stage, kept))
  return {
    missing,
    points: kept.map((point) => ({
      point: point.number,
      setting: point.setting,
      rows: rowsOf(stages, point),
    })),
  }
}

function lackOf({ name, loss, residual }: StageRule, points: readonly TrialPoint[]): string[] {
  const has = (id: string) => points.length === 0 || points.some((point) => figureOf(point, id))
  if (!has(loss)) return [`${name}: not measured here`]
  return residual !== null && has(residual) ? [] : [`${name}: no efficiency curve to hold its loss against`]
}

function rowsOf(stages: readonly StageRule[], point: TrialPoint): BalanceRow[] {
  const known = stages.flatMap((stage) => readStage(stage, point))
  const supplied = known[0]?.entering.mean ?? Number.NaN
  const rows = known.map((one) => rowOf(one, supplied))
  const judged = known.filter((one) => one.residual)
  return judged.length < 2 ? rows : [...rows, together(judged, supplied)]
}

interface ReadStage {
  rule: StageRule
  entering: PointFigure
  leaving: PointFigure
  loss: PointFigure
  residual: PointFigure | undefined
}

function readStage(rule: StageRule, point: TrialPoint): ReadStage[] {
  const entering = figureOf(point, rule.in)
  const loss = figureOf(point, rule.loss)
  const leaving = rule.out === null ? entering && loss && lessThan(entering, loss) : figureOf(point, rule.out)
  if (!entering || !loss || !leaving) return []
  const found = rule.residual === null ? undefined : figureOf(point, rule.residual)
  return [{ rule, entering, leaving, loss, residual: found && withoutConstants(found) }]
}

function rowOf({ rule, entering, leaving, loss, residual }: ReadStage, supplied: number): BalanceRow {
  const seen = residual
    ? { value: residual.mean, u95: NORMAL_95 * uncertaintyOf([residual], [rule.share * leaving.mean]) }
    : null
  return {
    stage: rule.id,
    name: rule.name,
    in: amount(entering),
    out: amount(leaving),
    loss: amount(loss),
    share: loss.mean / supplied,
    ...judge(loss.mean, seen),
  }
}

/** All stages with a curve, as one. */
function together(judged: readonly ReadStage[], supplied: number): BalanceRow {
  const losses = judged.map((one) => one.loss)
  const residuals = judged.map((one) => one.residual!)
  const loss = { value: total(losses), u95: NORMAL_95 * uncertaintyOf(losses) }
  const shares = judged.map(({ rule, leaving }) => rule.share * leaving.mean)
  const first = judged[0]!.entering
  return {
    stage: 'together',
    name: 'These with a curve, together',
    in: amount(first),
    out: {
      value: first.mean - loss.value,
      u95: NORMAL_95 * uncertaintyOf([first, ...losses], [], [1, ...losses.map(() => -1)]),
    },
    loss,
    share: loss.value / supplied,
    ...judge(loss.value, { value: total(residuals), u95: NORMAL_95 * uncertaintyOf(residuals, shares) }),
  }
}

function judge(loss: number, residual: Amount | null): Pick<BalanceRow, 'expected' | 'residual' | 'state'> {
  if (!residual) return { expected: null, residual, state: 'notJudged' }
  const state = Math.abs(residual.value) <= residual.u95 ? 'closes' : 'open'
  return { expected: loss - residual.value, residual, state }
}

function amount({ mean, u95 }: PointFigure): Amount {
  return { value: mean, u95 }
}

function total(figures: readonly PointFigure[]): number {
  return figures.reduce((sum, figure) => sum + figure.mean, 0)
}

function lessThan(a: PointFigure, b: PointFigure): PointFigure {
  const u = uncertaintyOf([a, b], [], [1, -1])
  return { ...a, id: `${a.id} less ${b.id}`, mean: a.mean - b.mean, u95: NORMAL_95 * u }
}

/** What the share of a curve stands for already: the ± of the constants and curves of the plant file. */
function withoutConstants(residual: PointFigure): PointFigure {
  const measured = Object.entries(residual.contributions).filter(([source]) => !isConstantSource(source))
  return { ...residual, contributions: Object.fromEntries(measured) }
}

/** Standard uncertainty of a signed sum: scatter and `own` independently, instruments and constants with their signs. */
function uncertaintyOf(
  figures: readonly PointFigure[],
  own: readonly number[] = [],
  signs: readonly number[] = figures.map(() => 1),
): number {
  const byInstrument: Record<string, number> = {}
  for (const [i, { contributions }] of figures.entries())
    for (const [instrument, share] of Object.entries(contributions))
      byInstrument[instrument] = (byInstrument[instrument] ?? 0) + signs[i]! * share
  return Math.hypot(...figures.map((figure) => figure.typeA), ...own, ...Object.values(byInstrument))
}
