import { plain } from '../../wire/numbers.ts'
import { printUnit } from '../../wire/units.ts'
import { plotSvg } from '../plot/plotSvg.ts'
import { escapeMarkup } from '../plot/plotText.ts'
import { checkSection } from './findingSections.ts'
import { factsOf, heading, listOf, paragraph, tableOf } from './markup.ts'
import { CAUTION } from './methodSheet.ts'
import type { PackedRun, PackParts } from './packedRun.ts'
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
    method.isSimulated
      ? '<p class="stamp">Simulated plant: all of this was computed, nothing measured at a machine</p>'
      : '',
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

/** Look of the printed record: A4, black on white, nothing from elsewhere. */
export const RECORD_STYLE = `
@page { size: A4; margin: 15mm 14mm 16mm; }
.record { box-sizing: border-box; max-width: 182mm; margin: 0 auto; background: #fff; color: #1a1d21;
  font: 10pt/1.4 'Open Sans', 'Noto Sans', system-ui, sans-serif; overflow-wrap: break-word; }
.record h1 { margin: 0; font-size: 17pt; line-height: 1.2; }
.record h2 { margin: 6mm 0 1.5mm; padding-bottom: 0.5mm; border-bottom: 0.3mm solid #68717a; font-size: 12pt;
  break-after: avoid; }
.record h3 { margin: 4mm 0 1mm; font-size: 10.5pt; break-after: avoid; }
.record p, .record ul, .record ol { margin: 1.5mm 0; }
.record ul, .record ol { padding-left: 6mm; }
.record table { width: 100%; margin: 2mm 0; border-collapse: collapse; font-size: 8.5pt; line-height: 1.3; }
.record th, .record td { padding: 0.8mm 1.4mm; border: 0.2mm solid #aab1b8; text-align: left; vertical-align: top; }
.record th { background: #eef0f2; font-weight: 600; }
.record .number { text-align: right; font-variant-numeric: tabular-nums; }
.record td.number { white-space: nowrap; }
.record td:last-child:not(.number) { min-width: 24mm; overflow-wrap: anywhere; }
.record thead { display: table-header-group; }
.record tr, .record figure, .record .step, .record .sign { break-inside: avoid; }
.record figure { margin: 3mm 0; }
.record svg { display: block; width: 100%; height: auto; }
.record .facts { display: grid; grid-template-columns: auto 1fr; gap: 0.5mm 4mm; margin: 2mm 0; }
.record .facts dt { color: #4b535b; }
.record .facts dd { margin: 0; }
.record .stamp { display: inline-block; margin: 2mm 0 0; padding: 0.5mm 2mm; border: 0.4mm solid #1a1d21;
  font-weight: 600; }
.record .step { margin: 2mm 0; }
.record .formula { margin: 0.5mm 0 0.5mm 4mm; font-family: 'DejaVu Sans Mono', ui-monospace, monospace;
  font-size: 8.5pt; }
.record .quiet { color: #4b535b; font-size: 9pt; }
.record .sign { display: grid; grid-template-columns: 32mm 1fr; gap: 7mm 4mm; margin-top: 6mm; align-items: end; }
.record .sign + .quiet { margin-top: 5mm; }
.record .line { border-bottom: 0.3mm solid #68717a; height: 5mm; }
.record .rejected td { color: #4b535b; }
@media screen { html { background: #fff; } .record { padding: 8mm 4mm; } }
@media print { html, body { background: #fff; margin: 0; } }
`
