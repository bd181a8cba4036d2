import { createHash } from 'node:crypto'
import { strToU8, zipSync } from 'fflate'
import type { RawWindow } from '../capture/capture.ts'
import { traceFiles } from '../trace/packTraces.ts'
import { csvLine } from './csv.ts'
import { methodSheet } from './methodSheet.ts'
import type { PackedRun } from './packedRun.ts'

/**
 * A zip file with the readings, the reduced points, everything as JSON, a method sheet, and checksums of these
 * (the form that `sha256sum -c` reads).
 */
export function packRun(run: PackedRun): Uint8Array {
  const { traces } = run
  const files: Record<string, string> = traces
    ? traceFiles({ ...run, traces })
    : {
        'method.txt': methodSheet(run),
        'raw.csv': rawCsv(run),
        'reduced.csv': reducedCsv(run),
        'run.json': runJson(run),
      }
  const sums = Object.entries(files).map(([name, text]) => `${sha256(text)}  ${name}\n`)
  const all = { ...files, SHA256SUMS: sums.join('') }
  // One fixed time: packing the same run twice gives the same bytes.
  const mtime = new Date(run.summary.startedAt)
  return zipSync(Object.fromEntries(Object.entries(all).map(([name, text]) => [name, strToU8(text)])), {
    level: 6,
    mtime,
  })
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
function reducedCsv({ method, stored }: PackedRun): string {
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
    ]),
  )
  return [head, ...lines].join('')
}

/** Points and readings are put in as they were stored, so that their checksums hold. */
function runJson({ summary, method, result, stored }: PackedRun): string {
  const points = stored.map(({ point, pointText, rawText }) => ({
    verdict: point.verdict,
    reason: point.reason,
    point: JSON.parse(pointText) as unknown,
    raw: JSON.parse(rawText) as unknown,
    sha256: sha256(pointText + rawText),
  }))
  return `${JSON.stringify({ format: 'headrace-run-1', run: summary, method, result, points }, null, 1)}\n`
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}
