import type { SeriesResult } from '../../wire/findings.ts'
import type { RawWindow } from '../capture/capture.ts'
import { csvLine } from './csv.ts'
import type { PackedPoints } from './packedRun.ts'

/** One line a sample, SI units. */
export function pointRawCsv({ method, stored }: PackedPoints): string {
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
export function pointReducedCsv({ method, findings, stored }: PackedPoints): string {
  const figures = method.view.figures
  const head = csvLine([
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
    ...figures.flatMap(({ id, unit }) =>
      ['mean', 'u_typeA', 'u_typeB', 'U95'].map((what) => `${id} ${what} [${unit}]`),
    ),
    'remarks',
    ...(findings.series.length > 0 ? ['series'] : []),
  ])
  const lines = stored.map(({ point }) =>
    csvLine([
      point.number,
      new Date(point.from).toISOString(),
      new Date(point.at).toISOString(),
      point.samples,
      point.origin,
      point.by,
      point.setting,
      point.repeatOf ?? '',
      point.verdict,
      point.reason,
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
