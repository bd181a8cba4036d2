import { ratedOf } from '../derive/describe.ts'
import type { Instrument, Plant } from '../plant/plant.ts'
import { plain } from '../wire/numbers.ts'
import { fromSi } from '../wire/units.ts'
import { type Check, type Doubt, isOutside, kiloSlip, percent } from './doubt.ts'

/** Limits of error above a fifth of what is measured are no instrument's (common practice, no source). */
const COARSEST = 0.2
/** End of the range over the rated value. */
const REACH = [0.95, 60] as const
/** A residual flow is a small part of what the river can bring. */
const NOT_A_RATING = /^residualFlow$/

/** What each instrument says of itself. */
export const checkInstruments: Check = ({ plant }) =>
  plant.instruments.flatMap((one, i) => [
    ...accuracyDoubts(one, `instruments[${i}].accuracy`),
    ...rangeDoubts(one, plant, `instruments[${i}].range`),
  ])

function accuracyDoubts({ accuracy, range, unit }: Instrument, place: string): Doubt[] {
  const doubts: Doubt[] = []
  for (const field of ['reading', 'span'] as const) {
    const share = accuracy?.[field] ?? 0
    if (share > COARSEST)
      doubts.push({
        path: `${place}.${field}`,
        received: percent(share),
        expected: 'limits of error such as 0.005 or "0.5 %" (0.5 by itself is 50 %)',
      })
  }
  const span = range ? range[1] - range[0] : Number.NaN
  for (const field of ['absolute', 'resolution'] as const) {
    const size = accuracy?.[field] ?? 0
    if (size > COARSEST * span)
      doubts.push({
        path: `${place}.${field}`,
        received: `${plain(size)} ${unit.code}`,
        expected: `a small part of the range, which spans ${plain(span)} ${unit.code} (in the unit of the instrument; a share is "reading" or "span")`,
      })
  }
  return doubts
}

function rangeDoubts({ quantity, range, unit }: Instrument, plant: Plant, path: string): Doubt[] {
  const rated = reachOf(quantity, plant)
  if (!range || rated === undefined || NOT_A_RATING.test(quantity)) return []
  const inUnit = fromSi(rated, unit)
  const ratio = Math.max(range[1], -range[0]) / inUnit
  if (!isOutside(ratio, REACH)) return []
  return [
    {
      path,
      received: `[${range.join(', ')}] ${unit.code}`,
      expected: `a range around the rated value, ${plain(inUnit, 3)} ${unit.code}${kiloSlip(ratio, [1, 10])}`,
    },
  ]
}

/** The value that an instrument has to be able to show [SI]. */
function reachOf(quantity: string, plant: Plant): number | undefined {
  const head = plant.constants.get('turbine.ratedNetHead')
  if (quantity === 'inletPressure' && head !== undefined) return 0.8 * 9810 * head
  return ratedOf(quantity, plant)
}
