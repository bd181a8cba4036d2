import { titleWithUnit, withInterval } from '../../wire/amounts.ts'
import { plain } from '../../wire/numbers.ts'
import { printUnit } from '../../wire/units.ts'
import { plotSvg } from '../plot/plotSvg.ts'
import { escapeMarkup } from '../plot/plotText.ts'
import { amountText, differenceText } from './amounts.ts'
import { findingSections } from './findingSections.ts'
import { factsOf, heading, listOf, paragraph, tableOf } from './markup.ts'
import type { PackedRun } from './packedRun.ts'
import { RECORD_STYLE } from './recordStyle.ts'
import { resultHtml } from './resultHtml.ts'
import { runPlots } from './runPlots.ts'
import { timeText } from './times.ts'
import { workedHtml } from './workedHtml.ts'
import type { WorkedPoint } from './workedPoint.ts'

/**
 * The record of a run as one page that prints on A4: it needs no network, no scripts and no other file. A raw record
 * with room for names, remarks and signatures; the report itself is the students' work.
 */
export function recordHtml(run: PackedRun, worked: WorkedPoint | undefined): string {
  return recordPage(run, [
    methodHtml(run),
    pointsHtml(run),
    plotsHtml(run),
    resultHtml(run),
    findingsHtml(run),
    workedHtml(run, worked),
  ])
}

/** The page around the parts of a record: what it is of at the top, room for names and signatures at the end. */
export function recordPage(run: PackedRun, parts: readonly string[]): string {
  const { summary, method } = run
  const title = `${summary.name}: ${method.view.name}`
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeMarkup(title)}</title>`,
    `<style>${RECORD_STYLE}</style></head><body>`,
    '<main class="record">',
    headHtml(run),
    ...parts,
    endHtml(),
    '</main></body></html>',
    '',
  ].join('\n')
}

function headHtml(run: PackedRun): string {
  const { summary, method } = run
  const zone = method.timeZone ?? 'UTC'
  const end = summary.finishedAt === null ? 'under way' : timeText(summary.finishedAt, zone)
  return [
    heading(1, summary.name),
    paragraph(method.view.name),
    method.isSimulated ? '<p class="stamp">Simulated plant: no measurement of a real machine</p>' : '',
    factsOf([
      ['Plant', method.plantName],
      ['Class', summary.className],
      ['Group', summary.group],
      ['Year', summary.year],
      ['From', `${timeText(summary.startedAt, zone)} (${zone})`],
      ['To', end],
      ['Run by', summary.by],
      ['Points', run.traces ? '' : `${summary.kept} kept, ${summary.rejected} rejected`],
      ['Recorded with', `Headrace ${method.version}, run ${summary.id}`],
      [
        'Plant file',
        method.plantFile
          ? `${method.plantFile.name}, SHA-256 ${method.plantFile.sha256.slice(0, 16)}…`
          : 'not stored: the run was begun with an older version',
      ],
    ]),
  ].join('\n')
}

function methodHtml({ method, summary }: PackedRun): string {
  const { view } = method
  const named = (id: string) => view.figures.find((figure) => figure.id === id)
  const held = view.hold.map(({ figure: id, target, tolerance }) => {
    const figure = named(id)
    return figure
      ? `${figure.name}: ${amountText(figure, target)} ± ${differenceText(figure, tolerance)}`
      : `${id}: ${target} ± ${tolerance} (SI)`
  })
  const limits = Object.entries(method.steady).map(
    ([id, share]) => `${named(id)?.name ?? id}: ${Number((100 * share).toPrecision(3))} %`,
  )
  const used = new Set(view.figures.map(({ id }) => id))
  const instruments = method.instruments.filter(({ quantity }) => used.has(quantity))
  return [
    heading(2, 'Aim and method'),
    paragraph(view.aim),
    factsOf([
      ['Held', held.join('; ')],
      ['Varied', `${named(view.vary.figure)?.name ?? view.vary.figure}, by ${view.vary.by}`],
      ['Curve', view.fit],
    ]),
    listOf(view.method, 'ol'),
    paragraph(
      `A point is the mean over 20 s in which everything watched was steady; scatter and movement within: ${limits.join(', ')}.`,
    ),
    summary.notes === '' ? '' : heading(3, 'Notes'),
    ...(summary.notes === '' ? [] : summary.notes.split('\n').map((line) => paragraph(line))),
    heading(2, 'Instruments'),
    tableOf(
      [{ title: 'Instrument' }, { title: 'Measures' }, { title: 'Range' }, { title: 'Limits of error' }],
      instruments.map(({ id, quantity, unit, range, accuracy }) => [
        id,
        named(quantity)?.name ?? quantity,
        range ? `${plain(range[0])} to ${plain(range[1])} ${printUnit(unit)}`.trim() : '–',
        accuracy,
      ]),
    ),
    paragraph('As the plant file stated them when the run began. Calibration dates: enter by hand.', 'quiet'),
  ].join('\n')
}

function pointsHtml({ method, stored, result }: PackedRun): string {
  const { view } = method
  const wanted = [...[view.abscissa, view.ordinate], ...view.hold.map(({ figure }) => figure)]
  const columns = [...new Set(wanted)].flatMap((id) => view.figures.find((figure) => figure.id === id) ?? [])
  const doubtful = result.isFitted ? result.doubtful : []
  const rows = stored.map(({ point }) => [
    String(point.number),
    timeText(point.at, method.timeZone).slice(11),
    ...columns.map((figure) => {
      const one = point.figures.find(({ id }) => id === figure.id)
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
function remarksHtml(stored: PackedRun['stored']): string {
  const remarks = stored.flatMap(({ point }) => {
    const texts = point.remarks.filter((text) => text !== 'entered by hand')
    return texts.length === 0 ? [] : [`Point ${point.number}: ${texts.join('; ')}.`]
  })
  return remarks.length === 0 ? '' : heading(3, 'Remarks on the readings') + listOf(remarks)
}

function plotsHtml(run: PackedRun): string {
  const plots = [...runPlots(run).values()]
  if (plots.length === 0) return ''
  return [heading(2, 'Plots'), ...plots.map((plot) => `<figure>${plotSvg(plot)}</figure>`)].join('\n')
}

/** Series, comparison, power balance, and what became of every check. */
function findingsHtml({ findings }: PackedRun): string {
  return findingSections(findings)
    .filter(([, lines]) => lines.length > 0)
    .flatMap(([title, lines]) => [heading(3, title), listOf(lines)])
    .join('\n')
}

function endHtml(): string {
  const line = (name: string) => `<span>${name}</span><span class="line"></span>`
  return [
    '<section class="sign">',
    line('Names'),
    line('Remarks'),
    '<span></span><span class="line"></span>',
    '<span></span><span class="line"></span>',
    line('Date, signature'),
    line('Seen by'),
    '</section>',
    paragraph(
      'Monitoring is not protection. Limits and suggestions are examples; whoever answers for the plant decides.',
      'quiet',
    ),
  ].join('\n')
}
