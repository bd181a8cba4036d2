import { divisorOf, limitAt } from '../../derive/instrumentUncertainty.ts'
import { coverageFactor95 } from '../../statistics/coverageFactor.ts'
import { NORMAL_95 } from '../../statistics/normal.ts'
import { effectiveDegreesOfFreedom, systematicOf } from '../../statistics/uncertainty.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import type { MethodConstant } from '../constants.ts'
import type { MethodInstrument, PointMethod } from '../runMethod.ts'

/** The uncertainty of one figure of one point, a row for each source (JCGM 100:2008, clause 8). SI units. */
export interface Budget {
  figure: FigureDescription
  value: number
  rows: BudgetRow[]
  /** u_c, ν_eff, k and U95 of the rows. */
  combined: number
  degreesOfFreedom: number
  coverageFactor: number
  expanded: number
}

export interface BudgetRow {
  /** Instrument, or what scatters. */
  source: string
  /** What it measures. */
  quantity: string
  /** UCUM code of its SI unit. */
  unit: string
  value: number
  type: 'A' | 'B'
  /** Half-width of the limits, or scatter of one reading for type A; null where nobody stated them. */
  limits: number | null
  distribution: 'rectangular' | 'normal' | 'Student t' | 'as stated'
  divisor: number | null
  /** Standard uncertainty of the source, in its unit. */
  standard: number
  /** How much the figure moves for one unit of the source. */
  sensitivity: number
  /** Signed, in the unit of the figure. */
  contribution: number
  /** Of the variance. */
  share: number
  degreesOfFreedom: number
}

type Part = Omit<BudgetRow, 'share'>

/** Undefined where the point has no such figure. */
export function budgetOf(figureId: string, point: TrialPoint, method: PointMethod): Budget | undefined {
  const figure = figureOf(method.view, figureId)
  const own = figureOf(point, figureId)
  if (!figure || !own) return undefined
  const typeB = Object.entries(own.contributions).flatMap(([source, contribution]) =>
    partsOf(source, contribution, { point, method }),
  )
  return { figure, value: own.mean, ...combineParts([...typeB, ...scatterOf(figure, own)]) }
}

/**
 * Rows with their shares, and what they make together: u_c² = Σ uᵢ², ν_eff after Welch and Satterthwaite, and the k that
 * live figures and points have (`coverageFactor95`).
 *
 * Limits: uncorrelated rows; sources of one calibration are one row.
 * Source: JCGM 100:2008, 5.1.2 and G.4; JCGM 101:2008 for the rectangles.
 */
export function combineParts(parts: readonly Part[]): Omit<Budget, 'figure' | 'value'> {
  const { standard: combined, widest } = systematicOf(
    parts.map(({ contribution, distribution }) => ({
      standard: contribution,
      rectangular: distribution === 'rectangular' ? contribution : 0,
    })),
  )
  const variance = combined ** 2
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    parts.map(({ contribution, ...part }) => ({ ...part, uncertainty: Math.abs(contribution) })),
  )
  const coverageFactor =
    combined === 0
      ? NORMAL_95
      : coverageFactor95(degreesOfFreedom, widest[0] / combined, widest[1] / combined)
  const rows = parts
    .map((part) => ({ ...part, share: variance === 0 ? 0 : part.contribution ** 2 / variance }))
    .sort((a, b) => b.share - a.share)
  return { rows, combined, degreesOfFreedom, coverageFactor, expanded: coverageFactor * combined }
}

/** Scatter of the readings: s/√n of so many independent ones. */
function scatterOf(figure: FigureDescription, own: PointFigure): Part[] {
  if (own.typeA === 0) return []
  return [
    {
      source: 'scatter of the readings',
      quantity: figure.id,
      unit: figure.unit,
      value: own.mean,
      type: 'A',
      limits: own.deviation,
      distribution: 'Student t',
      divisor: Math.sqrt(own.effectiveCount),
      standard: own.typeA,
      sensitivity: 1,
      contribution: own.typeA,
      degreesOfFreedom: Math.max(1, own.effectiveCount - 1),
    },
  ]
}

/** One instrument, or several that were calibrated together and err by the same part of their limits. */
function partsOf(
  source: string,
  contribution: number,
  { point, method }: { point: TrialPoint; method: PointMethod },
): Part[] {
  const constants = method.doubtful.filter((one) => (one.calibration ?? one.source) === source)
  const members = method.instruments.filter(({ id, limits }) => (limits?.calibration ?? id) === source)
  if (constants.length > 0 && members.length === 0) return [constantRow(constants, contribution)]
  const read = members.flatMap((one) => {
    const figure = figureOf(point, one.quantity)
    const unit = figureOf(method.view, one.quantity)?.unit
    return one.limits && figure && unit !== undefined ? [{ one, limits: one.limits, figure, unit }] : []
  })
  const first = read[0]
  // Instruments and constants of one calibration have no one value and no one sensitivity.
  if (!first || constants.length > 0 || read.length < members.length)
    return [unexplained(source, contribution)]
  const value = meanOf(read.map(({ figure }) => figure.mean))
  const half = meanOf(read.map(({ limits, figure }) => limitAt(limits, figure.mean)))
  const step = meanOf(read.map(({ limits }) => limits.resolution))
  const divisor = divisorOf(first.limits)
  const standards = [half / divisor, step / 2 / Math.sqrt(3)] as const
  const sensitivity = contribution / Math.hypot(...standards)
  const common = { unit: first.unit, value, type: 'B' as const, sensitivity, degreesOfFreedom: Infinity }
  const quantity = read.map(({ one }) => one.quantity).join(', ')
  const rows: Part[] = [
    {
      ...common,
      source: `${namesOf(read.map(({ one }) => one))}: limits of error`,
      quantity,
      limits: half,
      distribution: first.limits.isRectangular ? 'rectangular' : 'normal',
      divisor,
      standard: standards[0],
      contribution: sensitivity * standards[0],
    },
    {
      ...common,
      source: `${namesOf(read.map(({ one }) => one))}: rounding to its step`,
      quantity,
      limits: step / 2,
      distribution: 'rectangular',
      divisor: Math.sqrt(3),
      standard: standards[1],
      contribution: sensitivity * standards[1],
    },
  ]
  return rows.filter(({ standard }) => standard > 0)
}

/** A constant or curve of the plant file, or several that err together. */
function constantRow(constants: readonly MethodConstant[], contribution: number): Part {
  const [{ unit, isRectangular, calibration, assumed }] = constants as [MethodConstant]
  const half = meanOf(constants.map((one) => one.half))
  const divisor = divisorOf({ isRectangular })
  const names = constants.map(({ path }) => path).join(', ')
  const together = constants.length > 1 ? ` (err together: ${calibration})` : ''
  return {
    source: `${names}${together}: ± ${assumed === undefined ? 'of the plant file' : `assumed, ${assumed}`}`,
    quantity: names,
    unit,
    value: meanOf(constants.map(({ value }) => value)),
    type: 'B',
    limits: half,
    distribution: isRectangular ? 'rectangular' : 'normal',
    divisor,
    standard: half / divisor,
    sensitivity: (contribution * divisor) / half,
    contribution,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  }
}

/** What a person stated, or what the plant file stated no limits of. */
function unexplained(source: string, contribution: number): Part {
  return {
    source,
    quantity: '',
    unit: '',
    value: Number.NaN,
    type: 'B',
    limits: null,
    distribution: 'as stated',
    divisor: null,
    standard: Math.abs(contribution),
    sensitivity: Math.sign(contribution),
    contribution,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  }
}

function namesOf(instruments: readonly MethodInstrument[]): string {
  const [first, ...others] = instruments
  return others.length === 0
    ? first!.id
    : `${instruments.map(({ id }) => id).join(', ')} (calibrated together: ${first!.limits!.calibration})`
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
