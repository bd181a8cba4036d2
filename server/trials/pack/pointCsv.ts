import { type Columns, csvTable, joinColumns, utc } from '../../csv.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { TheoryView, TrialResult } from '../../wire/findings.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import type { RawWindow } from '../capture/capture.ts'
import type { BudgetRow } from './budget.ts'
import type { PackedPoints } from './packedRun.ts'
import type { WorkedPoint } from './workedPoint.ts'

interface Sample {
  point: number
  at: number
  place: number
  figures: RawWindow['figures']
}

/** One line a sample, SI units. */
export function pointRawCsv({ method, stored }: PackedPoints): string {
  const samples = stored.flatMap(({ point, rawText }) => {
    const raw = JSON.parse(rawText) as RawWindow | null
    return (raw?.at ?? []).map(
      (at, place): Sample => ({ point: point.number, at, place, figures: raw!.figures }),
    )
  })
  const figures = method.view.figures.map(
    ({ id, unit }): Columns<Sample> => ({ [`${id} [${unit}]`]: (one) => one.figures[id]?.[one.place] }),
  )
  return csvTable(samples, {
    point: (one) => one.point,
    time_utc: (one) => utc(one.at),
    time_ms: (one) => one.at,
    ...joinColumns(figures),
  })
}

const PARTS: Columns<PointFigure> = {
  mean: (one) => one.mean,
  u_typeA: (one) => one.typeA,
  u_typeB: (one) => one.typeB,
  U95: (one) => one.u95,
}

/** One line a point, SI units. */
export function pointReducedCsv({ method, findings: { series }, stored }: PackedPoints): string {
  const figures = method.view.figures.flatMap(({ id, unit }) =>
    Object.entries(PARTS).map(
      ([what, read]): Columns<TrialPoint> => ({
        [`${id} ${what} [${unit}]`](point) {
          const one = figureOf(point, id)
          return one && read(one)
        },
      }),
    ),
  )
  const seriesOf = ({ number }: TrialPoint) => series.find(({ points }) => points.includes(number))?.name
  const points = stored.map(({ point }) => point)
  return csvTable(points, {
    point: (one) => one.number,
    from_utc: (one) => utc(one.from),
    to_utc: (one) => utc(one.at),
    samples: (one) => one.samples,
    origin: (one) => one.origin,
    by: (one) => one.by,
    measured_by: (one) => one.measuredBy,
    setting: (one) => one.setting,
    repeat_of: (one) => one.repeatOf,
    verdict: (one) => one.verdict,
    reason: (one) => one.reason,
    ...joinColumns(figures),
    remarks: (one) => one.remarks.join('; '),
    ...(series.length > 0 ? { series: seriesOf } : {}),
  })
}

type Axes = [x: string | null, y: string | null]

/** The lines of the plots, SI units: what was fitted, with its band, and what the plant file predicts. */
export function curveCsv({ method, result, unitResult, theory, unitTheory }: PackedPoints): string {
  const { view } = method
  const unitOf = (id: string | null) => figureOf(view, id)?.unit
  const places = [
    ...placesOf([view.abscissa, view.ordinate], result, theory),
    ...placesOf([view.unitAbscissa, view.unitOrdinate], unitResult, unitTheory),
  ]
  return csvTable(places, {
    line: (one) => one.line,
    abscissa: ({ axes }) => axes[0],
    x_unit: ({ axes }) => unitOf(axes[0]),
    ordinate: ({ axes }) => axes[1],
    y_unit: ({ axes }) => unitOf(axes[1]),
    x: (one) => one.x,
    y: (one) => one.y,
    low95: (one) => one.low,
    high95: (one) => one.high,
  })
}

function placesOf(axes: Axes, fitted: TrialResult | null, theory: TheoryView | null) {
  const lines = (theory?.lines ?? []).map((one, i) => ({ line: `plant file ${i + 1}`, ...one }))
  const curves: { line: string; x: number[]; y: number[]; low?: number[]; high?: number[] }[] =
    fitted?.isFitted ? [{ line: 'fitted', ...fitted.curve }, ...lines] : lines
  return curves.flatMap(({ line, x, y, low, high }) =>
    x.map((value, i) => ({ line, axes, x: value, y: y[i], low: low?.[i], high: high?.[i] })),
  )
}

type BudgetLine = Partial<BudgetRow> & Pick<BudgetRow, 'source' | 'value' | 'unit'>

const DEGREES = 'effective degrees of freedom'

/** The budget of the worked point, SI units; the last rows say what the others make together. */
export function budgetCsv(worked: WorkedPoint | undefined): string {
  const budget = worked?.budget
  const unit = budget?.figure.unit ?? ''
  const lines: BudgetLine[] = budget
    ? [
        ...budget.rows,
        { source: 'value', value: budget.value, unit },
        { source: 'combined standard uncertainty', value: budget.combined, unit },
        { source: DEGREES, value: budget.degreesOfFreedom, unit: '1' },
        { source: 'coverage factor for 95 %', value: budget.coverageFactor, unit: '1' },
        { source: 'U95', value: budget.expanded, unit },
      ]
    : []
  const withEnd = (value: number | undefined) => (value === Number.POSITIVE_INFINITY ? 'infinite' : value)
  return csvTable(lines, {
    point: () => worked?.point.number,
    figure: () => budget?.figure.id,
    source: (one) => one.source,
    measures: (one) => one.quantity,
    type: (one) => one.type,
    value: (one) => (one.source === DEGREES ? withEnd(one.value) : one.value),
    unit: (one) => one.unit,
    limits: (one) => one.limits,
    distribution: (one) => one.distribution,
    divisor: (one) => one.divisor,
    standard_uncertainty: (one) => one.standard,
    sensitivity: (one) => one.sensitivity,
    contribution: (one) => one.contribution,
    contribution_unit: (one) => (one.contribution === undefined ? '' : unit),
    share_percent: (one) => (one.share === undefined ? '' : 100 * one.share),
    degrees_of_freedom: (one) => withEnd(one.degreesOfFreedom),
  })
}
