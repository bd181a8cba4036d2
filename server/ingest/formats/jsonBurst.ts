import type { Instrument } from '../../plant/plant.ts'
import { amountExpected, amountOf } from './amount.ts'
import { type Decoded, faulty, type Sample } from './format.ts'
import { shownValue } from './payloadText.ts'
import { type TimeUnit, timeOf } from './timeStamp.ts'

/** Samples in one packet; a second at 4 kHz. */
const LONGEST_BURST = 4096

interface Burst {
  /** What stands at the value's pointer. */
  values: readonly unknown[]
  /** What stands at the time's pointer; undefined where the plant file names none. */
  times: unknown
  timeUnit: TimeUnit
}

/**
 * Many samples in one packet, as instruments send them that sample faster than they speak:
 * - numbers, and as many times at the pointer of the time: every sample with its own time, oldest first;
 * - pairs [time, number]: the same;
 * - numbers alone, or with one time: nobody knows when each of them was, so they are one sample, whose value is the
 *   last and whose peak is the highest.
 */
export function burstOf({ values, times, timeUnit }: Burst, instrument: Instrument): Decoded {
  if (values.length === 0 || values.length > LONGEST_BURST)
    return faulty(`an array of ${values.length} values`, `1 to ${LONGEST_BURST} values`)
  const timed = pairsOf(values, times)
  const sampleOf = (value: unknown, at: number | undefined) => sampleWith(amountOf(value, instrument), at)
  const found = timed
    ? timed.flatMap(([time, value]) => sampleOf(value, timeOf(time, timeUnit)))
    : values.flatMap((value) => sampleOf(value, undefined))
  const lost = values.length - found.length
  const samples = timed ? found.sort((a, b) => (a.at ?? 0) - (b.at ?? 0)) : joined(found, times, timeUnit)
  if (lost === 0) return { samples }
  const odd = values.find((value) => sampleOf(Array.isArray(value) ? value[1] : value, 0).length === 0)
  const { fault } = faulty(
    `${lost} of ${values.length} values, such as ${shownValue(odd)}`,
    amountExpected(instrument),
  )
  return samples.length === 0
    ? { samples, ...(fault ? { fault } : {}) }
    : { samples, ...(fault ? { fault: { ...fault, kept: `The other ${found.length} were kept.` } } : {}) }
}

function pairsOf(values: readonly unknown[], times: unknown): (readonly [unknown, unknown])[] | undefined {
  if (values.every((value) => Array.isArray(value) && value.length === 2))
    return values as (readonly [unknown, unknown])[]
  if (!Array.isArray(times) || times.length !== values.length) return undefined
  return values.map((value, i) => [times[i], value] as const)
}

function sampleWith(value: number | undefined, at: number | undefined): Sample[] {
  if (value === undefined) return []
  return [at === undefined ? { value } : { value, at }]
}

function joined(samples: readonly Sample[], time: unknown, unit: TimeUnit): Sample[] {
  const last = samples.at(-1)
  if (!last) return []
  const at = timeOf(time, unit)
  const peak = samples.reduce((most, one) => Math.max(most, one.value), last.value)
  return [{ value: last.value, peak, ...(at === undefined ? {} : { at }) }]
}
