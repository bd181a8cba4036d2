import { studentQuantile } from '../../statistics/studentT.ts'
import { figureOf, titleWithUnit, viewOf, withEither } from '../../wire/amounts.ts'
import { bestRange, isRange } from '../../wire/bestWords.ts'
import { type Axes, type DrawnPoint, drawBest, drawCurve, drawLine, drawPoint } from '../../wire/drawn.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { BestPoint, TheoryView, TrialResult } from '../../wire/findings.ts'
import type { PointFigure } from '../../wire/point.ts'
import type { Plot } from '../plot/plot.ts'
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
  const drawn = run.stored.map(({ point }) => ({ number: point.number, marks: drawPoint(point, axes) }))
  if (drawn.every(({ marks }) => marks.length === 0)) return undefined
  const isActual = xId === run.method.view.abscissa
  const ways = isActual ? run.findings.series : []
  const marksOf = (numbers: readonly number[]) =>
    drawn.filter(({ number }) => numbers.includes(number)).flatMap(({ marks }) => marks)
  const curveOf = (one: TrialResult | null, label: string) =>
    one?.isFitted ? { label, ...drawCurve(one.curve, axes) } : null
  const best = result?.isFitted ? result.best : null
  return {
    ...plotTitles(run),
    x: titleWithUnit(axes[0]),
    y: titleWithUnit(axes[1]),
    series:
      ways.length > 0
        ? ways.map((way) => ({
            label: `${way.name}, bars 95 %`,
            points: marksOf(way.points),
            curve: curveOf(way.result, `${way.name}: fitted`),
          }))
        : [
            {
              label: 'measured, bars 95 %',
              points: drawn.flatMap(({ marks }) => marks),
              curve: curveOf(result, 'fitted, band 95 %'),
            },
          ],
    theory: theory && {
      label: 'plant file',
      lines: theory.lines.map((line) => drawLine(line, axes)),
    },
    best: best && drawBest(best, axes, bestLabel(best, axes)),
    hasZeroLine: false,
  }
}

function residualPlot(run: PackedPoints): Plot | undefined {
  const { abscissa, ordinate } = run.method.view
  const axes = axesOf(run, abscissa, ordinate)
  if (!axes || !run.result.isFitted) return undefined
  const y = viewOf(axes[1])
  const left = new Map(run.result.residuals.map((one) => [one.point, one.value]))
  const points = run.stored.flatMap(({ point }): DrawnPoint[] => {
    const residual = left.get(point.number)
    const [drawn] = drawPoint(point, axes)
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

function axesOf({ method }: PackedPoints, xId: string, yId: string): Axes<FigureDescription> | undefined {
  const [x, y] = [figureOf(method.view, xId), figureOf(method.view, yId)]
  return x && y ? [x, y] : undefined
}

function bestLabel(best: BestPoint, axes: Axes): string {
  const { x, xLow, xHigh, y, yLow, yHigh } = best
  const height = `best: ${withEither(axes[1], y, [yLow, yHigh])} ${viewOf(axes[1]).print}`.trim()
  if (best.isAtEnd) return `${height}, at the end of the range`
  if (isRange(best)) return `${height} ${bestRange(best, axes[0])}`
  const place = withEither(axes[0], x, [xLow, xHigh])
  return `${height} at ${place} ${viewOf(axes[0]).print}`.trim()
}
