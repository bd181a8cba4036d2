import { plain } from '../../wire/numbers.ts'
import { printUnit } from '../../wire/units.ts'
import { plotSvg } from '../plot/plotSvg.ts'
import { escapeMarkup } from '../plot/plotText.ts'
import { checkSection } from './findingSections.ts'
import { factsOf, heading, listOf, paragraph, tableOf } from './markup.ts'
import { CAUTION } from './methodSheet.ts'
import type { PackedRun, PackParts } from './packedRun.ts'
import { RECORD_STYLE } from './recordStyle.ts'
import { timeText } from './texts.ts'

/**
 * The record of a run as one page that prints on A4: it needs no network, no scripts and no other file. A raw record
 * with room for names, remarks and signatures; the report itself is the students' work.
 */
export function recordHtml(run: PackedRun, parts: PackParts): string {
  const title = `${run.summary.name}: ${run.method.view.name}`
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeMarkup(title)}</title>`,
    `<style>${RECORD_STYLE}</style></head><body>`,
    '<main class="record">',
    headHtml(run),
    methodHtml(run, parts),
    parts.takenHtml,
    plotsHtml(parts),
    parts.resultHtml,
    checksHtml(run),
    endHtml(),
    '</main></body></html>',
    '',
  ].join('\n')
}

function headHtml(run: PackedRun): string {
  const { summary, method } = run
  const zone = method.timeZone
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
      [run.takes === 'points' ? 'Points' : 'Traces', `${summary.kept} kept, ${summary.rejected} rejected`],
      ['Recorded with', `Headrace ${method.version}, run ${summary.id}`],
      [
        'Plant file',
        method.plantFile
          ? `${method.plantFile.name}, SHA-256 ${method.plantFile.sha256.slice(0, 16)}…`
          : 'none: the plant came from no file',
      ],
    ]),
  ].join('\n')
}

function methodHtml(run: PackedRun, { howHtml }: PackParts): string {
  const { view } = run.method
  const { notes } = run.summary
  return [
    heading(2, 'Aim and method'),
    paragraph(view.aim),
    listOf(view.method, 'ol'),
    howHtml,
    notes === '' ? '' : heading(3, 'Notes'),
    ...(notes === '' ? [] : notes.split('\n').map((line) => paragraph(line))),
    heading(2, 'Instruments'),
    instrumentsHtml(run),
    paragraph('As the plant file stated them when the run began. Calibration dates: enter by hand.', 'quiet'),
  ].join('\n')
}

/** Those that took part. */
function instrumentsHtml({ method: { view, instruments } }: PackedRun): string {
  const names = new Map(
    view.takes === 'points'
      ? view.figures.map(({ id, name }) => [id, name])
      : view.channels.map(({ quantity, name }) => [quantity, name]),
  )
  return tableOf(
    [{ title: 'Instrument' }, { title: 'Measures' }, { title: 'Range' }, { title: 'Limits of error' }],
    instruments
      .filter(({ quantity }) => names.has(quantity))
      .map(({ id, quantity, unit, range, accuracy }) => [
        id,
        names.get(quantity)!,
        range ? `${plain(range[0])} to ${plain(range[1])} ${printUnit(unit)}`.trim() : '–',
        accuracy,
      ]),
  )
}

function plotsHtml({ plots }: PackParts): string {
  if (plots.size === 0) return ''
  const drawn = [...plots.values()].map((plot) => `<figure>${plotSvg(plot)}</figure>`)
  return [heading(2, 'Plots'), ...drawn].join('\n')
}

function checksHtml({ checks }: PackedRun): string {
  const [title, lines] = checkSection(checks)
  return lines.length === 0 ? '' : heading(3, title) + listOf(lines)
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
    paragraph(CAUTION, 'quiet'),
  ].join('\n')
}
