import { createHash } from 'node:crypto'
import { strToU8, zipSync } from 'fflate'
import { csvTable } from '../../csv.ts'
import { drawPng } from '../plot/drawPng.ts'
import type { Plot } from '../plot/plot.ts'
import { plotSvg } from '../plot/plotSvg.ts'
import { methodSheet } from './methodSheet.ts'
import type { PackedRun, PackParts } from './packedRun.ts'
import { pointParts } from './pointParts.ts'
import { recordHtml } from './recordHtml.ts'
import { traceParts } from './traceParts.ts'

/**
 * A zip file with the readings, what they were reduced to, everything as JSON, plots, a printable record, the method in
 * words, the plant file, and checksums of these (the form that `sha256sum -c` reads).
 */
export async function packRun(run: PackedRun): Promise<Uint8Array> {
  const parts = partsOf(run)
  const texts: Record<string, string> = {
    'method.txt': methodSheet(run, parts),
    'record.html': recordHtml(run, parts),
    ...parts.texts(),
    'instruments.csv': instrumentsCsv(run),
    'run.json': runJson(run),
    ...(run.plantText === null ? {} : { 'plant-file.yaml': run.plantText }),
  }
  const written = Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, strToU8(text)]))
  const files = { ...written, ...(await picturesOf(parts.plots)) }
  const sums = Object.entries(files).map(([name, bytes]) => `${sha256(bytes)}  ${name}\n`)
  const all = { ...files, SHA256SUMS: strToU8(sums.join('')) }
  // One fixed time: packing the same run twice gives the same bytes.
  const mtime = new Date(run.summary.startedAt)
  return zipSync(all, { level: 6, mtime })
}

/** The record alone, for the screen and the printer. */
export function packRecord(run: PackedRun): string {
  return recordHtml(run, partsOf(run))
}

function partsOf(run: PackedRun): PackParts {
  return run.takes === 'points' ? pointParts(run) : traceParts(run)
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

/** What measured, as the plant file stated it when the run began. */
function instrumentsCsv({ method }: PackedRun): string {
  return csvTable(method.instruments, {
    instrument: (one) => one.id,
    name: (one) => one.name,
    measures: (one) => one.quantity,
    unit: (one) => one.unit,
    range_low: (one) => one.range?.[0],
    range_high: (one) => one.range?.[1],
    limits_of_error: (one) => one.accuracy,
    distribution: ({ limits }) => limits && (limits.isRectangular ? 'rectangular' : 'normal'),
    calibrated_together: ({ limits }) => limits?.calibration,
    calibration_date: () => 'not in the plant file',
  })
}

/** Points and readings are put in as they were stored, so that their checksums hold. */
function runJson({ stored, plantText: _, ...run }: PackedRun): string {
  const points = stored.map(({ point: { verdict, reason }, pointText, rawText }) => ({
    verdict,
    reason,
    point: JSON.parse(pointText) as unknown,
    raw: JSON.parse(rawText) as unknown,
    sha256: sha256(pointText + rawText),
  }))
  const pieces = 'raw' in run ? { raw: Object.entries(run.raw).map(pieceOf) } : {}
  const { summary, ...rest } = run
  return `${JSON.stringify({ format: 'headrace-run-1', run: summary, ...rest, points, ...pieces }, null, 1)}\n`
}

/** The readings of one trace. */
function pieceOf([number, parts]: [string, string[]]): object {
  return {
    number: Number(number),
    parts: parts.map((part) => JSON.parse(part) as unknown),
    sha256: sha256(parts.join('')),
  }
}

function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex')
}
