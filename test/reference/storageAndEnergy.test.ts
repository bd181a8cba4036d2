import { describe, expect, it } from 'vitest'
import {
  capacityFactor,
  classifyLoopCurrent,
  coulombStep,
  energyPerVolume,
  integrateTrapezoid,
  leadAcidStateOfCharge,
  leadAcidVoltage,
  lithiumCellVoltage,
  lithiumStateOfCharge,
  loadFactor,
  loopToValue,
  utilisationFactor,
  valueToLoop,
} from '../../server/physics/index.ts'
import {
  exceededDischarge,
  exceededDischargeInterpolated,
  median,
  summarise,
} from '../../server/statistics/index.ts'
import { checkEach } from './check.ts'
import { NILE } from './nile.ts'

const AH = 3600
const HOUR = 3600
const COUNTING = 'worked number 8.6, exact'
const LFP = 'cell data sheet table in zephyrproject-rtos/zephyr, read'
const LEAD = 'trade table, from memory'

describe('battery', () => {
  const afterCharge = () => coulombStep(0.8, 10, 2 * HOUR, 100 * AH, 0.95)
  checkEach([
    { what: 'charge after 2 h at +10 A', source: COUNTING, got: afterCharge, want: 0.99, within: 1e-12 },
    {
      what: 'charge after 3 h more at −15 A',
      source: COUNTING,
      got: () => coulombStep(afterCharge(), -15, 3 * HOUR, 100 * AH, 0.95),
      want: 0.54,
      within: 1e-12,
    },
    { what: 'LFP cell voltage at 50 %', source: LFP, got: () => lithiumCellVoltage(0.5), want: 3.221 },
    { what: 'LFP cell voltage at 100 %', source: LFP, got: () => lithiumCellVoltage(1), want: 3.348 },
    {
      what: 'LFP cell voltage at 45 %',
      source: `${LFP}, linear`,
      got: () => lithiumCellVoltage(0.45),
      want: 3.2155,
    },
    {
      what: 'LFP charge at 3.2155 V',
      source: `${LFP}, linear`,
      got: () => lithiumStateOfCharge(3.2155),
      want: 0.45,
    },
    { what: 'LFP charge at 3.068 V', source: LFP, got: () => lithiumStateOfCharge(3.068), want: 0.1 },
    { what: 'lead-acid voltage at 50 %', source: LEAD, got: () => leadAcidVoltage(0.5), want: 12.1 },
    { what: 'lead-acid voltage at 100 %', source: LEAD, got: () => leadAcidVoltage(1), want: 12.73 },
    { what: 'lead-acid charge at 12.37 V', source: LEAD, got: () => leadAcidStateOfCharge(12.37), want: 0.7 },
    {
      what: 'lead-acid charge at 12.17 V',
      source: `${LEAD}, linear`,
      got: () => leadAcidStateOfCharge(12.17),
      want: 0.55,
    },
  ])
  it('count is not clamped: more than full shows drift', () => {
    expect(coulombStep(0.99, 10, HOUR, 100 * AH, 1)).toBeCloseTo(1.09, 12)
  })
  it('tables say nothing outside their ends', () => {
    expect([
      lithiumStateOfCharge(3.5),
      lithiumCellVoltage(1.01),
      leadAcidVoltage(0.05),
      leadAcidStateOfCharge(13.8),
    ]).toEqual([NaN, NaN, NaN, NaN])
  })
  it('on the LFP plateau moves by 1 % and more for a millivolt (voltage is unusable there)', () => {
    expect(lithiumStateOfCharge(3.222) - lithiumStateOfCharge(3.221)).toBeGreaterThan(0.01)
  })
})

const TIMES = [0, 60, 120, 300, 600, 900]
const POWERS = [0, 1000, 1200, 1500, 1500, 900]
const DAY = 'TBC 2441 Ex. 1.4 and 1.5, read in a transcription, recomputed'

describe('energy', () => {
  checkEach([
    {
      what: 'the integral over uneven steps',
      source: 'worked number 9.1, exact',
      got: () => integrateTrapezoid(TIMES, POWERS),
      want: 1_149_000,
      within: 1e-15,
    },
    {
      what: 'the integral of a constant',
      source: 'by hand',
      got: () => integrateTrapezoid([0, 1, 5], [2, 2, 2]),
      want: 10,
    },
    {
      what: 'load factor of 59.1667 over 100 MW',
      source: DAY,
      got: () => loadFactor(59.16667, 100),
      want: 0.591667,
    },
    { what: 'load factor of a flat day', source: 'definition', got: () => loadFactor(7, 7), want: 1 },
    {
      what: 'capacity factor of 1420 MWh with 125 MW',
      source: DAY,
      got: () => capacityFactor(1420e6 * HOUR, 125e6, 24 * HOUR),
      want: 0.473333,
    },
    {
      what: 'capacity factor of 378 MWh a year with 90 kW',
      source: 'Skelderwath data sheet, fictional site, 0.48',
      got: () => capacityFactor(378e6 * HOUR, 90e3, 8760 * HOUR),
      want: 0.48,
      plusMinus: 0.005,
    },
    { what: 'utilisation of 100 by 125 MW', source: DAY, got: () => utilisationFactor(100, 125), want: 0.8 },
    { what: 'utilisation at full load', source: 'definition', got: () => utilisationFactor(5, 5), want: 1 },
    {
      what: 'energy per volume of 90 kW at 0.6324 m³/s in kWh/m³',
      source: 'Skelderwath data sheet, fictional site, 0.0395',
      got: () => energyPerVolume(90e3, 0.6324) / 3.6e6,
      want: 0.0395,
      plusMinus: 5e-5,
    },
    {
      what: 'energy per volume of 15 kW at 44.26 L/s in kWh/m³',
      source: 'Ostrelby data sheet, fictional site, 0.0941',
      got: () => energyPerVolume(15e3, 0.04426) / 3.6e6,
      want: 0.0941,
      plusMinus: 5e-5,
    },
  ])
  it('is unknown across a missing value, and refuses columns that do not fit', () => {
    expect(integrateTrapezoid([0, 1, 2], [1, NaN, 1])).toBeNaN()
    expect(() => integrateTrapezoid([0, 1], [1])).toThrow(RangeError)
    expect(() => integrateTrapezoid([1, 0], [1, 1])).toThrow(RangeError)
  })
})

/** p, Weibull, type 7. */
const DURATION: [number, number, number][] = [
  [0.05, 1219.5, 1210.5],
  [0.1, 1160, 1160],
  [0.25, 1037.5, 1032.5],
  [0.5, 893.5, 893.5],
  [0.75, 797.5, 798.5],
  [0.9, 718.8, 725.2],
  [0.95, 694.2, 697.8],
]

describe('flow duration of the Nile at Aswan, 1871–1970', () => {
  const source = 'public data set, read; quantiles computed for the project'
  checkEach([
    { what: 'the sum of the record', source, got: () => NILE.reduce((a, b) => a + b, 0), want: 91935 },
    { what: 'its mean', source, got: () => summarise(NILE).mean, want: 919.35, within: 1e-12 },
    {
      what: 'its standard deviation',
      source,
      got: () => summarise(NILE).deviation,
      want: 169.2275,
      plusMinus: 5e-5,
    },
    { what: 'its median', source, got: () => median(NILE), want: 893.5 },
    ...DURATION.flatMap(([p, weibull, type7]) => [
      {
        what: `Q${100 * p} by Weibull`,
        source,
        got: () => exceededDischarge(NILE, p),
        want: weibull,
        plusMinus: 1e-6,
      },
      {
        what: `Q${100 * p} by type 7`,
        source,
        got: () => exceededDischargeInterpolated(NILE, p),
        want: type7,
        plusMinus: 1e-6,
      },
    ]),
  ])
  it('has no Weibull value beyond the record', () => {
    expect(exceededDischarge(NILE, 0.999)).toBeNaN()
    expect(exceededDischarge([1, NaN, 3], 0.5)).toBeNaN()
  })
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
        what: `the current in mA at ${value}`,
        source: 'worked number 7.10, exact',
        got: () => 1000 * valueToLoop(value, 0, 10),
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
