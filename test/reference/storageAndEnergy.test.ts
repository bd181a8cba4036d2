import { describe, expect, it } from 'vitest'
import { indexKinds } from '../../server/derive/counting/indexKinds.ts'
import { type CounterState, EMPTY_STATE, integrate } from '../../server/derive/integrate.ts'
import { classifyLoopCurrent, loopToValue } from '../../server/physics/loopCurrent.ts'
import { scaleBack } from '../../simulator/publish/scaleBack.ts'
import { counterBench, HOUR, MINUTE } from '../support/counterBench.ts'
import { figureOf } from '../support/figureBench.ts'
import { plantOf } from '../support/plants.ts'
import { checkEach } from './check.ts'
import { TEXTBOOK } from './textbook.ts'

describe('charge of a battery', () => {
  /** State of charge of 100 Ah at 80 % and 95 % charge efficiency after these currents for so many hours each. */
  const counted = (courses: [amperes: number, hours: number][]) => {
    const bench = counterBench(
      plantOf(`
id: store
name: Store
site: { timeZone: Etc/UTC }
battery: { ratedCharge: 100 A.h, ratedVoltage: 25.6 V, chargeEfficiency: 0.95, startCharge: 80 % }
instruments:
  - { id: i, role: batteryCurrent, topic: store/i, unit: A, period: 2 min }
`),
    )
    let at = Date.parse('2026-06-10T11:00:00Z')
    for (const [amperes, hours] of courses) {
      bench.step(at, { batteryCurrent: amperes })
      for (const end = at + hours * HOUR; at < end; ) {
        at += MINUTE
        bench.step(at, { batteryCurrent: amperes })
      }
      at += 1
    }
    bench.step(at)
    return bench.view('stateOfCharge').value ?? Number.NaN
  }
  const source = 'worked number 8.6, exact; the change of current takes a millisecond'
  /** Charge of that millisecond, the mean of 10 A at 95 % and −15 A, as a share of 100 Ah. */
  const CHANGE = (0.001 * (9.5 - 15)) / 2 / 360_000
  checkEach([
    { what: 'charge after 2 h at +10 A', source, got: () => counted([[10, 2]]), want: 0.99, within: 1e-12 },
    {
      what: 'charge after 3 h more at −15 A',
      source,
      got: () =>
        counted([
          [10, 2],
          [-15, 3],
        ]) - CHANGE,
      want: 0.54,
      within: 1e-12,
    },
    {
      what: 'charge after an hour too much, which is not clamped,',
      source: 'by hand: 0.8 + 3 · 0.1 · 0.95',
      got: () => counted([[10, 3]]),
      want: 1.085,
      within: 1e-9,
    },
  ])
})

const DAY = 'TBC 2441 Ex. 1.4 and 1.5, read in a transcription, recomputed'
/** Hours, and megawatts of demand at their ends. */
const LOAD: [hour: number, megawatt: number][] = [
  [0, 20],
  [5, 20],
  [5, 40],
  [9, 40],
  [9, 80],
  [18, 80],
  [18, 100],
  [22, 100],
  [22, 20],
  [24, 20],
]

/** A counter that is told these powers [W] at these hours; a step of the load takes a millisecond. */
function energyOf(course: readonly [hour: number, power: number][]): number {
  const slow = { straightMs: 24 * HOUR, heldMs: 24 * HOUR }
  return course.reduce<CounterState>((state, [hour, power], i) => {
    const at = hour * HOUR + (hour === course[i - 1]?.[0] ? 1 : 0)
    return integrate(state, { at, rate: power }, slow)
  }, EMPTY_STATE).value
}

describe('energy', () => {
  const capacityFactor = (energy: number, power: number, seconds: number) =>
    Number(
      indexKinds
        .find(({ id }) => id === 'capacityFactor')!
        .value([energy], { elapsed: seconds, unknown: 0 }, [power]),
    )
  const energy = () => energyOf(LOAD.map(([hour, megawatt]) => [hour, megawatt * 1e6]))
  const ofPeak = () => capacityFactor(energy(), 100e6, 86_400)
  const ofPlant = () => capacityFactor(energy(), 125e6, 86_400)
  const perVolume = (power: number, discharge: number) =>
    figureOf('specificEnergy', { activePower: `${power} W`, discharge: `${discharge} m3/s` }) / 3.6e6
  checkEach([
    {
      what: 'the integral over uneven steps',
      source: 'worked number 9.1, exact',
      got: () =>
        energyOf(
          [
            [0, 0],
            [60, 1000],
            [120, 1200],
            [300, 1500],
            [600, 1500],
            [900, 900],
          ].map(([seconds, power]) => [seconds! / 3600, power!]),
        ),
      want: 1_149_000,
      within: 1e-12,
    },
    {
      what: 'the integral of a constant',
      source: 'by hand',
      got: () =>
        energyOf([
          [0, 2],
          [1, 2],
          [5, 2],
        ]) / 3600,
      want: 10,
    },
    { what: 'the energy of a day in MWh', source: DAY, got: () => energy() / 3.6e9, want: 1420 },
    {
      what: 'load factor, the capacity factor of the peak of 100 MW and not the mean of 59.17 MW,',
      source: `${DAY}; printed wrongly`,
      got: ofPeak,
      want: 0.591667,
    },
    { what: 'capacity factor of 1420 MWh with 125 MW', source: DAY, got: ofPlant, want: 0.473333 },
    {
      what: 'utilisation of 100 by 125 MW, capacity factor over load factor,',
      source: DAY,
      got: () => ofPlant() / ofPeak(),
      want: 0.8,
    },
    {
      what: 'capacity factor of 378 MWh a year with 90 kW',
      source: 'Skelderwath data sheet, fictional site, 0.48',
      got: () => capacityFactor(378e6 * 3600, 90e3, 8760 * 3600),
      want: 0.48,
      plusMinus: 0.005,
    },
    {
      what: 'energy per volume of 90 kW at 0.6324 m³/s in kWh/m³',
      source: 'Skelderwath data sheet, fictional site, 0.0395',
      got: () => perVolume(90e3, 0.6324),
      want: 0.0395,
      plusMinus: 5e-5,
    },
    {
      what: 'energy per volume of 15 kW at 44.26 L/s in kWh/m³',
      source: 'Ostrelby data sheet, fictional site, 0.0941',
      got: () => perVolume(15e3, 0.04426),
      want: 0.0941,
      plusMinus: 5e-5,
    },
    {
      what: 'energy of 24 m of water in kWh/m³',
      source: 'computed apart from the code',
      got: () =>
        figureOf(
          'idealSpecificEnergy',
          { grossHead: '24 m' },
          { ...TEXTBOOK, site: 'gravity: 9.81 m/s2, waterDensity: 998.2 kg/m3' },
        ) / 3.6e6,
      want: 0.0653,
      plusMinus: 5e-5,
    },
  ])
})

/** mA, value on 0–10. */
const LOOP: [number, number][] = [
  [4, 0],
  [8, 2.5],
  [12, 5],
  [20, 10],
  [3.8, -0.125],
  [20.5, 10.3125],
]

const LOOP_METER = plantOf(`
id: loop
name: Current loop
use: rig
site: { timeZone: Etc/UTC }
instruments:
  - { id: p, topic: t/p, unit: bar, range: [0, 10], scale: { kind: loop } }
`).instruments[0]!

describe('loop current', () => {
  checkEach(
    LOOP.flatMap(([milliampere, value]) => [
      {
        what: `the value at ${milliampere} mA`,
        source: 'worked number 7.10, exact',
        got: () => loopToValue(milliampere / 1000, 0, 10),
        want: value,
        plusMinus: 1e-12,
      },
      {
        what: `the current in mA at ${value}, as simulated instruments send it,`,
        source: 'worked number 7.10, exact',
        got: () => scaleBack(LOOP_METER, value),
        want: milliampere,
        plusMinus: 1e-12,
      },
    ]),
  )
  it.each([
    [3.5, 'faultLow'],
    [3.6, 'faultLow'],
    [3.7, 'undefinedLow'],
    [3.8, 'measuring'],
    [12, 'measuring'],
    [20.5, 'measuring'],
    [20.8, 'undefinedHigh'],
    [21, 'faultHigh'],
    [22, 'faultHigh'],
    [Number.NaN, 'absent'],
  ] as const)('%f mA is %s (NAMUR NE 43; below 3.6 read, other bounds from memory)', (milliampere, band) => {
    expect(classifyLoopCurrent(milliampere / 1000)).toBe(band)
    expect(classifyLoopCurrent(milliampere * 0.001)).toBe(band)
  })
})
