import { createHash } from 'node:crypto'
import { strToU8, zipSync } from 'fflate'
import type { SeriesResult } from '../../wire/trial.ts'
import type { RawWindow } from '../capture/capture.ts'
import { drawPng } from '../plot/drawPng.ts'
import type { Plot } from '../plot/plot.ts'
import { plotSvg } from '../plot/plotSvg.ts'
import type { PackedTraces } from '../trace/packedTraces.ts'
import { traceFiles } from '../trace/packTraces.ts'
import { csvLine } from './csv.ts'
import { curveCsv, instrumentsCsv } from './curveCsv.ts'
import { methodSheet } from './methodSheet.ts'
import type { PackedRun } from './packedRun.ts'
import { recordHtml } from './recordHtml.ts'
import { runPlots } from './runPlots.ts'
import { tracePlot, traceRecordHtml } from './traceRecord.ts'
import { workPoint } from './workedPoint.ts'
import { budgetCsv, workedText } from './workedText.ts'

/**
 * A zip file with the readings, the reduced points, everything as JSON, plots, a printable record, one point worked in
 * full, the plant file, and checksums of these (the form that `sha256sum -c` reads).
 */
export async function packRun(run: PackedRun): Promise<Uint8Array> {
  const files = run.traces ? await tracedFiles({ ...run, traces: run.traces }) : await pointFiles(run)
  const sums = Object.entries(files).map(([name, bytes]) => `${sha256(bytes)}  ${name}\n`)
  const all = { ...files, SHA256SUMS: strToU8(sums.join('')) }
  // One fixed time: packing the same run twice gives the same bytes.
  const mtime = new Date(run.summary.startedAt)
  return zipSync(all, { level: 6, mtime })
}

/** The record alone, for the screen and the printer. */
export function packRecord(run: PackedRun): string {
  return run.traces ? traceRecordHtml({ ...run, traces: run.traces }) : recordHtml(run, workedPointOf(run))
}

function workedPointOf({ method, stored, result }: PackedRun) {
  return workPoint(
    method,
    stored.map(({ point }) => point),
    result,
  )
}

async function picturesOf(plots: ReadonlyMap<string, Plot>): Promise<Record<string, Uint8Array>> {
  const pictures: Record<string, Uint8Array> = {}
  for (const [name, plot] of plots) {
    const svg = plotSvg(plot)
    pictures[`${name}.svg`] = strToU8(svg)
    pictures[`${name}.png`] = await drawPng(svg)
  }
  return pictures
}

function bytesOf(texts: Record<string, string>): Record<string, Uint8Array> {
  return Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, strToU8(text)]))
}

async function tracedFiles(run: PackedRun & { traces: PackedTraces }): Promise<Record<string, Uint8Array>> {
  const texts = {
    ...traceFiles(run),
    'record.html': traceRecordHtml(run),
    ...(run.plantText === null ? {} : { 'plant-file.yaml': run.plantText }),
  }
  const plot = tracePlot(run)
  return { ...bytesOf(texts), ...(await picturesOf(new Map(plot ? [['plot', plot]] : []))) }
}

async function pointFiles(run: PackedRun): Promise<Record<string, Uint8Array>> {
  const worked = workedPointOf(run)
  const texts: Record<string, string> = {
    'method.txt': methodSheet(run),
    'record.html': recordHtml(run, worked),
    'worked-point.txt': workedText(run, worked),
    'budget.csv': budgetCsv(worked),
    'raw.csv': rawCsv(run),
    'reduced.csv': reducedCsv(run),
    'curve.csv': curveCsv(run),
    'instruments.csv': instrumentsCsv(run),
    'run.json': runJson(run),
    ...(run.plantText === null ? {} : { 'plant-file.yaml': run.plantText }),
  }
  return { ...bytesOf(texts), ...(await picturesOf(runPlots(run))) }
}

/** One line a sample, SI units. */
function rawCsv({ method, stored }: PackedRun): string {
  const figures = method.view.figures
  const head = csvLine(['point', 'time_utc', 'time_ms', ...figures.map(({ id, unit }) => `${id} [${unit}]`)])
  const lines = stored.flatMap(({ point, rawText }) => {
    const raw = JSON.parse(rawText) as RawWindow | null
    return (raw?.at ?? []).map((at, i) =>
      csvLine([
        point.number,
        new Date(at).toISOString(),
        at,
        ...figures.map(({ id }) => raw!.figures[id]?.[i] ?? ''),
      ]),
    )
  })
  return [head, ...lines].join('')
}

/** One line a point, SI units. */
function reducedCsv({ method, findings, stored }: PackedRun): string {
  const figures = method.view.figures
  const head = csvLine([
    ...[
      'point',
      'from_utc',
      'to_utc',
      'samples',
      'origin',
      'by',
      'setting',
      'repeat_of',
      'verdict',
      'reason',
    ],
    ...figures.flatMap(({ id, unit }) =>
      ['mean', 'u_typeA', 'u_typeB', 'U95'].map((what) => `${id} ${what} [${unit}]`),
    ),
    'remarks',
    ...(findings.series.length > 0 ? ['series'] : []),
  ])
  const lines = stored.map(({ point }) =>
    csvLine([
      ...[point.number, new Date(point.from).toISOString(), new Date(point.at).toISOString(), point.samples],
      ...[point.origin, point.by, point.setting, point.repeatOf ?? '', point.verdict, point.reason],
      ...figures.flatMap(({ id }): (string | number)[] => {
        const one = point.figures.find((figure) => figure.id === id)
        return one ? [one.mean, one.typeA, one.typeB, one.u95] : ['', '', '', '']
      }),
      point.remarks.join('; '),
      ...(findings.series.length > 0 ? [seriesOf(point.number, findings.series)] : []),
    ]),
  )
  return [head, ...lines].join('')
}

function seriesOf(point: number, series: readonly SeriesResult[]): string {
  return series.find(({ points }) => points.includes(point))?.name ?? ''
}

/** Points and readings are put in as they were stored, so that their checksums hold. */
function runJson({ stored, plantText: _, ...run }: PackedRun): string {
  const points = stored.map(({ point, pointText, rawText, verdicts }) => ({
    verdict: point.verdict,
    reason: point.reason,
    verdicts,
    point: JSON.parse(pointText) as unknown,
    raw: JSON.parse(rawText) as unknown,
    sha256: sha256(pointText + rawText),
  }))
  const { summary, method, ...results } = run
  return `${JSON.stringify({ format: 'headrace-run-1', run: summary, method, ...results, points }, null, 1)}\n`
}

function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex')
}
