import { studentQuantile } from '../../statistics/studentT.ts'
import { figureOf, titleWithUnit, viewOf, withEither } from '../../wire/amounts.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { BestPoint, TheoryView, TrialResult } from '../../wire/findings.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import type { UnitView } from '../../wire/units.ts'
import type { Plot, PlotPoint } from '../plot/plot.ts'
import type { PackedPoints } from './packedRun.ts'
import { plotTitles } from './texts.ts'

/** The pictures of a run by the name of their file: as measured, in unit quantities, and the residuals. */
export function pointPlots(run: PackedPoints): Map<string, Plot> {
  const { view } = run.method
  const plots = new Map<string, Plot>()
  const add = (name: string, plot: Plot | undefined) => plot && plots.set(name, plot)
  add('plot', curvePlot(run, { x: view.abscissa, y: view.ordinate, result: run.result, theory: run.theory }))
  if (view.unitAbscissa !== null && view.unitOrdinate !== null)
    add(
      'plot-unit',
      curvePlot(run, {
        x: view.unitAbscissa,
        y: view.unitOrdinate,
        result: run.unitResult,
        theory: run.unitTheory,
      }),
    )
  add('residuals', residualPlot(run))
  return plots
}

interface Drawn {
  x: string
  y: string
  result: TrialResult | null
  theory: TheoryView | null
}

function curvePlot(run: PackedPoints, { x: xId, y: yId, result, theory }: Drawn): Plot | undefined {
  const axes = axesOf(run, xId, yId)
  if (!axes) return undefined
  const [x, y] = [viewOf(axes[0]), viewOf(axes[1])]
  const units: [UnitView, UnitView] = [x, y]
  const drawn = run.stored.map(({ point }) => ({ number: point.number, marks: pointOf(point, axes, units) }))
  if (drawn.every(({ marks }) => marks.length === 0)) return undefined
  const isActual = xId === run.method.view.abscissa
  const ways = isActual ? run.findings.series : []
  const marksOf = (numbers: readonly number[]) =>
    drawn.filter(({ number }) => numbers.includes(number)).flatMap(({ marks }) => marks)
  const fitted = result?.isFitted ? result : null
  return {
    ...plotTitles(run),
    x: titleWithUnit(axes[0]),
    y: titleWithUnit(axes[1]),
    series:
      ways.length > 0
        ? ways.map((way) => ({
            label: `${way.name}, bars 95 %`,
            points: marksOf(way.points),
            curve: curveOf(way.result, units, `${way.name}: fitted`),
          }))
        : [
            {
              label: 'measured, bars 95 %',
              points: drawn.flatMap(({ marks }) => marks),
              curve: curveOf(result, units, 'fitted, band 95 %'),
            },
          ],
    theory: theory && {
      label: 'plant file',
      lines: theory.lines.map((line) => ({ x: line.x.map(x.value), y: line.y.map(y.value) })),
    },
    best: fitted?.best ? bestOf(fitted.best, axes, [x, y]) : null,
    hasZeroLine: false,
  }
}

function curveOf(
  result: TrialResult | null,
  [x, y]: [UnitView, UnitView],
  label: string,
): Plot['series'][number]['curve'] {
  if (!result?.isFitted) return null
  const { curve } = result
  const columns = { x: curve.x.map(x.value), y: curve.y.map(y.value) }
  return { label, ...columns, low: curve.low.map(y.value), high: curve.high.map(y.value) }
}

function residualPlot(run: PackedPoints): Plot | undefined {
  const { abscissa, ordinate } = run.method.view
  const axes = axesOf(run, abscissa, ordinate)
  if (!axes || !run.result.isFitted) return undefined
  const [x, y] = [viewOf(axes[0]), viewOf(axes[1])]
  const left = new Map(run.result.residuals.map((one) => [one.point, one.value]))
  const points = run.stored.flatMap(({ point }): PlotPoint[] => {
    const residual = left.get(point.number)
    const [drawn] = pointOf(point, axes, [x, y])
    const own = figureOf(point, ordinate)
    if (residual === undefined || !drawn || !own) return []
    // What the instruments are off by is common to all points: it moves the curve, not the points about it.
    return [{ ...drawn, y: y.difference(residual), ux: 0, uy: y.difference(scatter95(own)) }]
  })
  const { print } = y
  return {
    ...plotTitles(run),
    x: titleWithUnit(axes[0]),
    y: `Measured less fitted${print === '' ? '' : ` [${print}]`}`,
    series: [
      {
        label: `residual of ${axes[1].name.toLowerCase()}, bars 95 % of the scatter alone`,
        points,
        curve: null,
      },
    ],
    theory: null,
    best: null,
    hasZeroLine: true,
  }
}

function scatter95({ typeA, effectiveCount }: PointFigure): number {
  return typeA === 0 ? 0 : typeA * studentQuantile(0.95, Math.max(1, effectiveCount - 1))
}

type Axes = [x: FigureDescription, y: FigureDescription]

function axesOf({ method }: PackedPoints, xId: string, yId: string): Axes | undefined {
  const [x, y] = [figureOf(method.view, xId), figureOf(method.view, yId)]
  return x && y ? [x, y] : undefined
}

function pointOf(point: TrialPoint, axes: Axes, [x, y]: [UnitView, UnitView]): PlotPoint[] {
  const [px, py] = axes.map((axis) => figureOf(point, axis.id))
  if (!px || !py) return []
  const bars = { ux: x.difference(px.u95), uy: y.difference(py.u95) }
  return [{ x: x.value(px.mean), y: y.value(py.mean), ...bars, isKept: point.verdict === 'kept' }]
}

function bestOf(best: BestPoint, axes: Axes, [x, y]: [UnitView, UnitView]): NonNullable<Plot['best']> {
  const height = withEither(axes[1], best.y, [best.yLow, best.yHigh])
  const place = withEither(axes[0], best.x, [best.xLow, best.xHigh])
  const words = `best: ${height} ${y.print}`.trim()
  return {
    x: x.value(best.x),
    y: y.value(best.y),
    xLow: x.value(best.xLow),
    xHigh: x.value(best.xHigh),
    yLow: y.value(best.yLow),
    yHigh: y.value(best.yHigh),
    label: best.isAtEnd ? `${words}, at the end of the range` : `${words} at ${place} ${x.print}`.trim(),
  }
}
