import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type MeterMemory, type MeterTraits, readMeter } from '../../../../server/derive/counting/meter.ts'

const KWH = 3.6e6
const MINUTE = 60_000
/** A five-digit meter of kWh with steps of 0.1 at a 15 kW machine. */
const TRAITS: MeterTraits = { most: 15_000, step: 0.1 * KWH, unit: KWH, end: 99_999.9 * KWH }

/** Readings [kWh], one a minute → what was counted [kWh] and the last note. */
function count(readings: number[], traits = TRAITS): { counted: number; note: string } {
  let memory: MeterMemory | undefined
  let counted = 0
  readings.forEach((reading, i) => {
    const step = readMeter(memory, { reading: reading * KWH, at: i * MINUTE }, traits)
    memory = step.memory
    counted += step.increment / KWH
  })
  return { counted, note: memory?.note?.text ?? '' }
}

describe('readMeter', () => {
  it('counts from the first reading on', () => {
    expect(count([5000, 5000.2, 5000.4]).counted).toBeCloseTo(0.4, 9)
  })

  it('counts what the meter counted while nobody read it', () => {
    const first = readMeter(undefined, { reading: 100 * KWH, at: 0 }, TRAITS)
    const later = readMeter(first.memory, { reading: 220 * KWH, at: 600 * MINUTE }, TRAITS)
    expect([later.increment / KWH, later.from]).toEqual([expect.closeTo(120, 9), 0])
  })

  it('goes on over the end of the range', () => {
    // 99 999.9 → 100 000.0 which shows as 0.0 → 0.2: 0.3 kWh, by hand
    expect(count([99_999.8, 99_999.9, 0.0, 0.2])).toEqual({
      counted: expect.closeTo(0.4, 6),
      note: expect.stringContaining('passed the end'),
    })
  })

  it('goes on over a power of ten of its unit where the range is larger or not stated', () => {
    expect(count([9_999.9, 0.1, 0.2], { ...TRAITS, end: undefined }).counted).toBeCloseTo(0.3, 6)
    expect(count([9_999.9, 0.1, 0.2], { ...TRAITS, end: 9_999_999 * KWH }).counted).toBeCloseTo(0.3, 6)
  })

  it('counts what a meter shows since a reset', () => {
    expect(count([5000, 5000.2, 0.1, 0.3])).toEqual({
      counted: expect.closeTo(0.5, 9),
      note: expect.stringContaining('reset'),
    })
  })

  it.each([
    ['zero', 0],
    ['far too much', 70_000],
    ['half', 2500],
  ])('counts nothing for a single wrong reading of %s', (_, wrong) => {
    expect(count([5000, 5000.2, wrong, 5000.4])).toEqual({ counted: expect.closeTo(0.4, 9), note: '' })
  })

  it('takes a meter that was exchanged as a new beginning and counts no jump', () => {
    expect(count([5000, 5000.2, 71_000, 71_000.2, 71_000.4])).toEqual({
      counted: expect.closeTo(0.6, 9),
      note: expect.stringContaining('jumped'),
    })
    expect(count([5000, 5000.2, 700, 700.2]).counted).toBeCloseTo(0.4, 9)
  })

  it('does not count the same step twice when a reading falls back by rounding', () => {
    expect(count([5000, 5000.1, 5000, 5000.1, 5000.2]).counted).toBeCloseTo(0.2, 9)
  })

  it('takes no reading that is not newer', () => {
    const first = readMeter(undefined, { reading: 5, at: 1000 }, TRAITS)
    expect(readMeter(first.memory, { reading: 9, at: 1000 }, TRAITS)).toMatchObject({
      increment: 0,
      from: null,
    })
  })

  it('never counts backwards and never more than can have been made, whatever it reads', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 100_000, noNaN: true }), { maxLength: 30 }),
        (readings) => {
          let memory: MeterMemory | undefined
          let counted = 0
          readings.forEach((reading, i) => {
            const step = readMeter(memory, { reading: reading * KWH, at: i * MINUTE }, TRAITS)
            expect(step.increment).toBeGreaterThanOrEqual(0)
            memory = step.memory
            counted += step.increment
          })
          // each counted step is within 1.5 × rated for its time and one minute of lag, and the steps do not overlap
          const most = 1.5 * 15_000 * 60 * 2 * readings.length + 0.2 * KWH * readings.length
          expect(counted).toBeLessThanOrEqual(most)
        },
      ),
      { seed: 20261125 },
    )
  })
})
