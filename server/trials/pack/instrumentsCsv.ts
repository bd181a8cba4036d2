import { csvLine } from './csv.ts'
import type { PackedRun } from './packedRun.ts'

/** What measured, as the plant file stated it when the run began. */
export function instrumentsCsv({ method }: PackedRun): string {
  const head = csvLine([
    'instrument',
    'name',
    'measures',
    'unit',
    'range_low',
    'range_high',
    'limits_of_error',
    'distribution',
    'calibrated_together',
    'calibration_date',
  ])
  const lines = method.instruments.map(({ id, name, quantity, unit, range, accuracy, limits }) =>
    csvLine([
      id,
      name,
      quantity,
      unit,
      range?.[0] ?? '',
      range?.[1] ?? '',
      accuracy,
      limits ? (limits.isRectangular ? 'rectangular' : 'normal') : '',
      limits?.calibration ?? '',
      'not in the plant file',
    ]),
  )
  return [head, ...lines].join('')
}
