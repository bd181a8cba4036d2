import { describe, expect, it } from 'vitest'
import { decoderFor } from '../../../../server/ingest/formats/index.ts'
import type { Instrument } from '../../../../server/plant/plant.ts'
import { plantOf } from '../../../support/plants.ts'

function instrument(payload: string): Instrument {
  const plant = plantOf(`
use: rig
instruments:
  - { id: tacho, role: speed, topic: mill/speed, unit: /min, payload: ${payload} }`)
  return plant.instruments[0]!
}

const TIMED = instrument('{ format: json, value: /n, time: /t }')

/** The samples of a packet, or what is said in their place. */
function read(document: unknown, one = TIMED) {
  const { parse, pick } = decoderFor(one)
  const parsed = parse(new TextEncoder().encode(JSON.stringify(document)))
  if ('fault' in parsed) return parsed.fault
  const { samples, fault, absent } = pick(parsed.document)
  return samples.length > 0 ? samples : (fault ?? absent ?? samples)
}

describe('a JSON packet with many samples', () => {
  it('gives every sample its own time, oldest first', () => {
    expect(read({ n: [1510, 1500], t: [1_790_000_000_010, 1_790_000_000_000] })).toEqual([
      { value: 1500, at: 1_790_000_000_000 },
      { value: 1510, at: 1_790_000_000_010 },
    ])
  })

  it('reads pairs of time and number', () => {
    expect(
      read({
        n: [
          [1_790_000_000_000, 1500],
          [1_790_000_000_005, 1600],
        ],
      }),
    ).toEqual([
      { value: 1500, at: 1_790_000_000_000 },
      { value: 1600, at: 1_790_000_000_005 },
    ])
  })

  it('takes numbers of unknown times for one sample, whose peak is the highest', () => {
    expect(read([1500, 1770, 1600], instrument('{ format: json }'))).toEqual([{ value: 1600, peak: 1770 }])
    expect(read({ n: [1500, 1770, 1600], t: 1_790_000_000_000 })).toEqual([
      { value: 1600, peak: 1770, at: 1_790_000_000_000 },
    ])
  })

  it('keeps the numbers of a burst in which one value is none', () => {
    expect(read({ n: [1500, 'x'], t: [1_790_000_000_000, 1_790_000_000_010] })).toEqual([
      { value: 1500, at: 1_790_000_000_000 },
    ])
  })

  it('refuses an empty array and one that is too long', () => {
    expect(read({ n: [] })).toMatchObject({ found: 'an array of 0 values' })
    expect(read({ n: Array.from({ length: 5000 }, () => 1) })).toMatchObject({
      found: 'an array of 5000 values',
    })
  })
})
