import { figureOf, titleWithUnit, withInterval } from '../../wire/amounts.ts'
import { curveHtml } from './curveHtml.ts'
import { findingSections } from './findingSections.ts'
import { factsOf, heading, listOf, paragraph, tableOf } from './markup.ts'
import type { PackedPoints } from './packedRun.ts'
import { amountText, differenceText, timeText } from './texts.ts'
import { workedHtml } from './workedHtml.ts'
import type { WorkedPoint } from './workedPoint.ts'

/** What was held and varied, and when a point was taken. */
export function pointHowHtml({ method: { view, steady } }: PackedPoints): string {
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
export function pointResultHtml(run: PackedPoints, worked: WorkedPoint | undefined): string {
  const findings = findingSections(run.findings)
    .filter(([, lines]) => lines.length > 0)
    .flatMap(([title, lines]) => [heading(3, title), listOf(lines)])
  return [curveHtml(run), ...findings, workedHtml(worked)].join('\n')
}

/** Every point with what was decided about it. */
export function pointsHtml({ method, stored, result }: PackedPoints): string {
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
