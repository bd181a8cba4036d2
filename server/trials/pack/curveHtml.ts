import { figureOf, titleWithUnit, viewOf, withEnds, withInterval } from '../../wire/amounts.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { FittedCurve } from '../../wire/findings.ts'
import { plain } from '../../wire/numbers.ts'
import { bestRemark } from './findingSections.ts'
import { heading, paragraph, tableOf } from './markup.ts'
import type { PackedPoints } from './packedRun.ts'

/** Curve, constants and best point. */
export function curveHtml(run: PackedPoints): string {
  const { result, unitResult, method } = run
  const { view } = method
  const axes = (...ids: (string | null)[]) => ids.map((id) => figureOf(view, id))
  if (!result.isFitted) return [heading(2, 'Result'), paragraph(`No curve: ${result.lacking}`)].join('\n')
  return [
    heading(2, 'Result'),
    paragraph(
      `Curve: ${result.formula}; ${result.points} points, ${result.degreesOfFreedom} degrees of freedom. Intervals hold 95 %.`,
    ),
    bestText('Best point', result, axes(view.abscissa, view.ordinate)),
    unitResult?.isFitted
      ? bestText('In unit quantities', unitResult, axes(view.unitAbscissa, view.unitOrdinate))
      : '',
    parametersHtml(result, run),
  ].join('\n')
}

function bestText(title: string, { best }: FittedCurve, [x, y]: (FigureDescription | undefined)[]): string {
  if (!best || !x || !y) return ''
  const with95 = (figure: FigureDescription, value: number, ends: [number, number]) =>
    `${withEnds(figure, value, ends)} ${viewOf(figure).print}`.trim()
  const height = with95(y, best.y, [best.yLow, best.yHigh])
  const place = with95(x, best.x, [best.xLow, best.xHigh])
  const end = bestRemark(best)
  const at = `${y.name.toLowerCase()} ${height} at ${x.name.toLowerCase()} ${place}.`
  return paragraph([`${title}: ${at}`, ...(end ? [end] : [])].join(' '))
}

/** Fitted constants, beside those of the plant file where the two are the same. */
function parametersHtml({ parameters }: FittedCurve, { method }: PackedPoints): string {
  if (parameters.length === 0) return ''
  const { theory, fit } = method
  const expected = theory?.law.kind === 'model' && theory.law.model === fit.model ? theory.law.parameters : []
  const rows = parameters.map((one, i) => {
    const given = expected[i]
    return [
      one.symbol,
      titleWithUnit(one),
      withInterval(one, one.value, (one.high - one.low) / 2),
      given === undefined ? '–' : plain(viewOf(one).value(given)),
      given === undefined ? '' : given >= one.low && given <= one.high ? 'yes' : 'no',
    ]
  })
  const columns = [{ title: 'Symbol' }, { title: 'Constant' }, { title: 'Fitted', isNumber: true }]
  const beside = [{ title: 'Plant file', isNumber: true }, { title: 'Within the interval' }]
  return expected.length === 0
    ? tableOf(
        columns,
        rows.map((row) => row.slice(0, 3)),
      )
    : tableOf([...columns, ...beside], rows)
}
