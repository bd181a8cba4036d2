import { describe, expect, it } from 'vitest'
import type { Instrument } from '../../server/plant/plant.ts'
import { toSi } from '../../server/wire/units.ts'
import { createSensor } from '../../simulator/sensors/sensor.ts'
import { createSite } from '../../simulator/site.ts'
import { START } from '../support/manualClock.ts'
import { idealSite } from './settle.ts'

const rig = idealSite('quennerby').plant
const instrument = (id: string): Instrument => rig.instruments.find((one) => one.id === id)!

/** Readings of one true value [in the instrument's unit]. */
function readings(id: string, value: number, { seed = 1, ideal = false, fault = '', count = 200 } = {}) {
  const one = instrument(id)
  const sensor = createSensor(one, { seed, plant: 'quennerby', ideal })
  if (fault !== '') sensor.setFault(fault)
  return Array.from({ length: count }, () => sensor.sample({ value: toSi(value, one.unit) }, 1))
}

const values = (outputs: ReturnType<typeof readings>) =>
  outputs.map((one) => (one && 'value' in one ? one.value : Number.NaN))
const mean = (list: number[]) => list.reduce((sum, one) => sum + one, 0) / list.length

describe('a sensor', () => {
  it('reads the truth when it is ideal', () => {
    expect(values(readings('discharge', 3.6, { ideal: true, count: 3 }))).toEqual([3.6, 3.6, 3.6])
  })

  // discharge: 0.5 % of reading + 0.05 % of 5 L/s; at 3.6 L/s that is 0.0205 L/s
  const places = (count: number) =>
    Array.from(
      { length: count },
      (_, seed) => (mean(values(readings('discharge', 3.6, { seed, count: 50 }))) - 3.6) / 0.0205,
    )

  it('draws its fixed error evenly from the whole of the limits in the plant file, whatever the seed', () => {
    const drawn = places(400)
    // what noise of 0.08 leaves in a mean of 50 readings: 0.011
    expect(Math.max(...drawn.map(Math.abs))).toBeLessThan(1 + 4 * 0.011)
    expect(Math.max(...drawn)).toBeGreaterThan(0.97)
    expect(Math.min(...drawn)).toBeLessThan(-0.97)
    // uniform in −1 … 1 (JCGM 100 4.3.7): standard deviation 1/√3, half of it within ± 0.5; binomial, 3 deviations
    expect(Math.hypot(...drawn) / Math.sqrt(400)).toBeCloseTo(1 / Math.sqrt(3), 1)
    const half = drawn.filter((one) => Math.abs(one) < 0.5).length
    expect(Math.abs(half - 200)).toBeLessThan(30)
  })

  it('draws from a normal distribution with 95 % inside the limits where the plant file says so', () => {
    const one = instrument('discharge')
    const certified = { ...one, accuracy: { ...one.accuracy!, distribution: 'normal' as const } }
    const drawn = Array.from({ length: 1000 }, (_, seed) => {
      const sensor = createSensor(certified, { seed, plant: 'quennerby', ideal: false })
      const list = Array.from({ length: 25 }, () => sensor.sample({ value: toSi(3.6, one.unit) }, 1))
      return (mean(values(list)) - 3.6) / 0.0205
    })
    // JCGM 100 4.3.4; standard deviation of the count 6.9
    const inside = drawn.filter((place) => Math.abs(place) <= 1).length
    expect(Math.abs(inside - 950)).toBeLessThan(21)
    expect(Math.max(...drawn.map(Math.abs))).toBeGreaterThan(1.2)
  })

  it('errs by the same part of its limits as the others of its calibration, and unlike those of another', () => {
    // 0.2 % of 30 V + 0.05 % of 75 V, and 0.2 % of 8 A + 0.05 % of 20 A
    const voltage = (id: string) => (mean(values(readings(id, 30, { seed: 3 }))) - 30) / 0.0975
    const current = (mean(values(readings('phase-current-1', 8, { seed: 3 }))) - 8) / 0.026
    for (const id of ['phase-voltage-2', 'phase-voltage-3'])
      expect(Math.abs(voltage(id) - voltage('phase-voltage-1')), id).toBeLessThan(0.05)
    expect(Math.abs(current - voltage('phase-voltage-1'))).toBeGreaterThan(0.1)
  })

  it('has noise, in steps of its resolution', () => {
    const list = values(readings('discharge', 3.6))
    expect(new Set(list).size).toBeGreaterThan(5)
    // resolution 0.001 L/s
    for (const one of list) expect(Math.abs(one * 1000 - Math.round(one * 1000))).toBeLessThan(1e-6)
  })

  it('gives the same readings for the same seed and others for another', () => {
    expect(readings('torque', 3, { seed: 4 })).toEqual(readings('torque', 3, { seed: 4 }))
    expect(readings('torque', 3, { seed: 4 })).not.toEqual(readings('torque', 3, { seed: 5 }))
  })

  it('reads contacts without error', () => {
    expect(values(readings('jet-1-open', 1, { count: 5 }))).toEqual([1, 1, 1, 1, 1])
  })
})

describe('a faulty sensor', () => {
  it('is silent when it is lost', () => {
    expect(readings('torque', 3, { fault: 'lost', count: 3 })).toEqual([undefined, undefined, undefined])
  })

  it('repeats one reading when it is stuck', () => {
    expect(new Set(values(readings('torque', 3, { fault: 'stuck' }))).size).toBe(1)
  })

  it('reads 3 % too much with a gain fault', () => {
    expect(values(readings('torque', 3, { fault: 'gain', ideal: true, count: 1 }))[0]).toBeCloseTo(3.09, 6)
  })

  it('drifts by 1 % of its span a minute', () => {
    // span of the torque cell: 20 N·m
    const list = values(readings('torque', 3, { fault: 'drift', ideal: true, count: 60 }))
    expect(list.at(-1)! - 3).toBeCloseTo(0.2, 3)
  })

  it('spikes now and then', () => {
    const list = values(readings('torque', 3, { fault: 'spike', ideal: true }))
    const spikes = list.filter((one) => one > 4).length
    expect(spikes).toBeGreaterThan(0)
    expect(spikes).toBeLessThan(40)
  })

  it('sends words, or no current', () => {
    expect(readings('torque', 3, { fault: 'text', count: 1 })).toEqual([{ text: 'fault 7' }])
    expect(readings('manifold-pressure', 2, { fault: 'open', count: 1 })).toEqual([{ raw: 0 }])
  })
})

describe('a run with a seed', () => {
  const record = (seed: number) => {
    const site = createSite('ostrelby', { seed })
    const sent = []
    for (let i = 0; i < 100; i++) {
      site.step(0.05)
      sent.push(...site.messages(START + 50 * i))
    }
    return sent
  }
  it('is the same again with the same seed', () => {
    expect(record(7)).toEqual(record(7))
  })
  it('differs with another seed', () => {
    expect(record(7)).not.toEqual(record(8))
  })
})
