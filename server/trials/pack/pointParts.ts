import { figureOf, titleWithUnit, viewOf, withEnds, withInterval } from '../../wire/amounts.ts'
import { bestRange, bestRemark, bestSettings, isRange } from '../../wire/bestWords.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { FittedCurve, FittedParameter, TrialResult } from '../../wire/findings.ts'
import { plain } from '../../wire/numbers.ts'
import { findingSections } from './findingSections.ts'
import { factsOf, heading, listOf, paragraph, tableOf } from './markup.ts'
import type { PackedPoints, PackParts, Section } from './packedRun.ts'
import { budgetCsv, curveCsv, pointRawCsv, pointReducedCsv } from './pointCsv.ts'
import { pointPlots } from './pointPlots.ts'
import { amountText, differenceText, short, timeText } from './texts.ts'
import type { WorkedPoint } from './workedPoint.ts'
import { workPoint } from './workedPoint.ts'
import { workedHtml, workedText } from './workedText.ts'

/** What is of its own in the pack of a run of points. */
export function pointParts(run: PackedPoints): PackParts {
  const { method, points, result, findings, theory } = run
  const worked = workPoint(method, points, result)
  return {
    how: howSections(run),
    result: [
      ['Curve', [method.view.fit, ...resultLines(result, figureOf(method.view, method.view.abscissa))]],
      ['Dashed line', theory ? [`What the plant file predicts: ${theory.from}`] : []],
      ...findingSections(findings),
    ],
    taken: [
      [
        'Rejected points',
        points
          .filter(({ verdict }) => verdict === 'rejected')
          .map(({ number, reason }) => `${number}: ${reason}`),
      ],
    ],
    howHtml: pointHowHtml(run),
    takenHtml: pointsHtml(run),
    resultHtml: pointResultHtml(run, worked),
    plots: pointPlots(run),
    texts: () => ({
      'worked-point.txt': workedText(run, worked),
      'budget.csv': budgetCsv(worked),
      'raw.csv': pointRawCsv(run),
      'reduced.csv': pointReducedCsv(run),
      'curve.csv': curveCsv(run),
    }),
    files: [
      'plot*.svg, plot*.png, residuals.*: the plots. curve.csv: their lines, SI units.',
      'worked-point.txt, budget.csv: one point worked in full, and its uncertainty.',
      'raw.csv: every sample, SI units. reduced.csv: one line a point.',
    ],
  }
}

function howSections({ method: { view, steady } }: PackedPoints): Section[] {
  return [
    [
      'Held',
      view.hold.map(
        ({ figure, target, tolerance }) => `${figure}: ${short(target)} ± ${short(tolerance)} (SI)`,
      ),
    ],
    ['Varied', [`${view.vary.figure}, by ${view.vary.by}`]],
    [
      'When a point is taken',
      [
        'Every watched figure is steady over 20 s, sampled twice a second: scatter and movement along a straight line',
        'within its limit, and no movement told from noise by the ratio of Cao and Rhinehart.',
        ...Object.entries(steady).map(([figure, share]) => `${figure}: ${short(100 * share)} % of its value`),
      ],
    ],
    [
      'Uncertainty',
      [
        'Type A: scatter over the root of the number of independent readings (their correlation is taken off).',
        'Type B: limits of error of the instruments, divided by √3, carried along the formulas. Averaging does not reduce it.',
        'U95: k·u with k from the effective degrees of freedom (JCGM 100:2008, G.4).',
      ],
    ],
  ]
}

function resultLines(result: TrialResult, x: FigureDescription | undefined): string[] {
  if (!result.isFitted) return [`Not laid: ${result.lacking}`]
  const { best } = result
  const remark = best && x ? bestRemark(best, x) : undefined
  return [
    `Laid: ${result.formula}, ${result.points} points, ${result.degreesOfFreedom} degrees of freedom`,
    ...result.parameters.map(parameterLine),
    ...(best === null
      ? []
      : [
          `Best point: ${short(best.y)} [${short(best.yLow)}, ${short(best.yHigh)}] at ${short(best.x)} [${short(best.xLow)}, ${short(best.xHigh)}] (SI, 95 %)`,
          ...(remark === undefined ? [] : [remark]),
        ]),
  ]
}

function parameterLine({ symbol, name, value, low, high, unit }: FittedParameter): string {
  return `${symbol} (${name}): ${short(value)} ${unit}, 95 % interval ${short(low)} to ${short(high)}`
}

/** What was held and varied, and when a point was taken. */
function pointHowHtml({ method: { view, steady } }: PackedPoints): string {
  const named = (id: string) => figureOf(view, id)
  const held = view.hold.map(({ figure: id, target, tolerance }) => {
    const figure = named(id)
    return figure
      ? `${figure.name}: ${amountText(figure, target)} ± ${differenceText(figure, tolerance)}`
      : `${id}: ${target} ± ${tolerance} (SI)`
  })
  const limits = Object.entries(steady).map(
    ([id, share]) => `${named(id)?.name ?? id}: ${Number((100 * share).toPrecision(3))} %`,
  )
  return [
    factsOf([
      ['Held', held.join('; ')],
      ['Varied', `${named(view.vary.figure)?.name ?? view.vary.figure}, by ${view.vary.by}`],
      ['Curve', view.fit],
    ]),
    paragraph(
      `A point is the mean over 20 s in which everything watched was steady; scatter and movement within: ${limits.join(', ')}.`,
    ),
  ].join('\n')
}

/** Curve, constants, what it says besides, and one point worked in full. */
function pointResultHtml(run: PackedPoints, worked: WorkedPoint | undefined): string {
  const findings = findingSections(run.findings)
    .filter(([, lines]) => lines.length > 0)
    .flatMap(([title, lines]) => [heading(3, title), listOf(lines)])
  return [curveHtml(run), ...findings, workedHtml(worked)].join('\n')
}

/** Every point with what was decided about it. */
function pointsHtml({ method, stored, result }: PackedPoints): string {
  const { view } = method
  const wanted = [view.abscissa, view.ordinate, ...view.hold.map(({ figure }) => figure)]
  const columns = [...new Set(wanted)].flatMap((id) => figureOf(view, id) ?? [])
  const doubtful = result.isFitted ? result.doubtful : []
  const rows = stored.map(({ point }) => [
    String(point.number),
    timeText(point.at, method.timeZone).slice(11),
    ...columns.map((figure) => {
      const one = figureOf(point, figure.id)
      return one ? withInterval(figure, one.mean, one.u95) : '–'
    }),
    point.repeatOf === null ? point.setting : `${point.setting} (repeats ${point.repeatOf})`,
    [
      point.verdict === 'rejected' ? `rejected: ${point.reason}` : '',
      doubtful.includes(point.number) ? 'far from the curve' : '',
      point.origin === 'manual' ? `by ${point.by}` : '',
      point.measuredBy ? `measured by ${point.measuredBy}` : '',
    ]
      .filter((text) => text !== '')
      .join('; '),
  ])
  return [
    heading(2, 'Points'),
    stored.length === 0
      ? paragraph('None was taken.')
      : tableOf(
          [
            { title: 'No.' },
            { title: 'Time', isNumber: true },
            ...columns.map((figure) => ({ title: titleWithUnit(figure), isNumber: true })),
            { title: 'Setting' },
            { title: 'Decision' },
          ],
          rows,
          stored.map(({ point }) => (point.verdict === 'rejected' ? 'rejected' : '')),
        ),
    remarksHtml(stored),
    paragraph(
      '± holds 95 %: scatter and accuracy of the instruments together. All figures: reduced.csv.',
      'quiet',
    ),
  ].join('\n')
}

/** What the live figures said of their quality while a point was taken. */
function remarksHtml(stored: PackedPoints['stored']): string {
  const remarks = stored.flatMap(({ point }) => {
    const texts = point.remarks.filter((text) => text !== 'entered by hand')
    return texts.length === 0 ? [] : [`Point ${point.number}: ${texts.join('; ')}.`]
  })
  return remarks.length === 0 ? '' : heading(3, 'Remarks on the readings') + listOf(remarks)
}

/** Curve, constants and best point. */
function curveHtml(run: PackedPoints): string {
  const { result, unitResult, method } = run
  const { view } = method
  const axes = (...ids: (string | null)[]) => ids.map((id) => figureOf(view, id))
  if (!result.isFitted) return [heading(2, 'Result'), paragraph(`No curve: ${result.lacking}`)].join('\n')
  return [
    heading(2, 'Result'),
    paragraph(
      `Curve: ${result.formula}; ${result.points} points, ${result.degreesOfFreedom} degrees of freedom. Intervals hold 95 %.`,
    ),
    bestText('Best point', result, {
      axes: axes(view.abscissa, view.ordinate),
      settings: view.vary.isStepped ? view.vary.suggested : [],
    }),
    unitResult?.isFitted
      ? bestText('In unit quantities', unitResult, {
          axes: axes(view.unitAbscissa, view.unitOrdinate),
          settings: [],
        })
      : '',
    parametersHtml(result, run),
  ].join('\n')
}

/** @param settings Values of the abscissa where nothing between can be set. */
function bestText(
  title: string,
  { best }: FittedCurve,
  { axes: [x, y], settings }: { axes: (FigureDescription | undefined)[]; settings: readonly number[] },
): string {
  if (!best || !x || !y) return ''
  const with95 = (figure: FigureDescription, value: number, ends: [number, number]) =>
    `${withEnds(figure, value, ends)} ${viewOf(figure).print}`.trim()
  const height = with95(y, best.y, [best.yLow, best.yHigh])
  if (settings.length > 0)
    return paragraph(`${title}: ${y.name.toLowerCase()} ${height} ${bestSettings(best, settings)}`)
  const place = isRange(best)
    ? bestRange(best, x)
    : `at ${x.name.toLowerCase()} ${with95(x, best.x, [best.xLow, best.xHigh])}`
  const end = bestRemark(best, x)
  const at = `${y.name.toLowerCase()} ${height} ${place}.`
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
