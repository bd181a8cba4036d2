import { describe, expect, it } from 'vitest'
import { ownLaw } from '../../support/ownFigureBench.ts'
import { checkEach, rpm } from '../check.ts'

// Batteries, inverters, generators and unbalance as an owner would write them.

const LFP_TABLE =
  '0, 2.013, 0.1, 3.068, 0.2, 3.159, 0.3, 3.194, 0.4, 3.21, 0.5, 3.221, 0.6, 3.229, 0.7, 3.246, 0.8, 3.256, 0.9, 3.262, 1, 3.348'
const LEAD_TABLE =
  '0.1, 11.51, 0.2, 11.66, 0.3, 11.81, 0.4, 11.96, 0.5, 12.1, 0.6, 12.24, 0.7, 12.37, 0.8, 12.5, 0.9, 12.62, 1, 12.73'
/** The same points with voltage first. */
const byVoltage = (table: string) => table.replaceAll(/([\d.]+), ([\d.]+)/g, '$2, $1')
const battery = (table: string) =>
  ownLaw(
    { soc: '%', U: 'V' },
    `id: rest, formula: "V * interpolate(soc, ${table})", constants: { V: 1 V }, unit: V`,
    `id: charge, formula: "interpolate(U / V, ${byVoltage(table)})", constants: { V: 1 V }, unit: "%"`,
  )
const lithium = battery(LFP_TABLE)
const lead = battery(LEAD_TABLE)
const LFP = 'cell data sheet table in zephyrproject-rtos/zephyr, read'
const LEAD = 'trade table, from memory'

describe('battery at rest', () => {
  checkEach([
    { what: 'LFP cell voltage at 50 %', source: LFP, got: () => lithium({ soc: 0.5 }, 'rest'), want: 3.221 },
    { what: 'LFP cell voltage at 100 %', source: LFP, got: () => lithium({ soc: 1 }, 'rest'), want: 3.348 },
    {
      what: 'LFP cell voltage at 45 %',
      source: `${LFP}, linear`,
      got: () => lithium({ soc: 0.45 }, 'rest'),
      want: 3.2155,
    },
    {
      what: 'LFP charge at 3.2155 V',
      source: `${LFP}, linear`,
      got: () => lithium({ U: 3.2155 }),
      want: 0.45,
    },
    { what: 'LFP charge at 3.068 V', source: LFP, got: () => lithium({ U: 3.068 }), want: 0.1 },
    { what: 'lead-acid voltage at 50 %', source: LEAD, got: () => lead({ soc: 0.5 }, 'rest'), want: 12.1 },
    { what: 'lead-acid voltage at 100 %', source: LEAD, got: () => lead({ soc: 1 }, 'rest'), want: 12.73 },
    { what: 'lead-acid charge at 12.37 V', source: LEAD, got: () => lead({ U: 12.37 }), want: 0.7 },
    {
      what: 'lead-acid charge at 12.17 V',
      source: `${LEAD}, linear`,
      got: () => lead({ U: 12.17 }),
      want: 0.55,
    },
    ...[2.013, 3.068, 3.159, 3.194, 3.21, 3.221, 3.229, 3.246, 3.256, 3.262, 3.348].map((want, i) => ({
      what: `voltage of an LFP cell at ${10 * i} %`,
      source: 'a cell data sheet in a public source file, read; guide only',
      got: () => lithium({ soc: i / 10 }, 'rest'),
      want,
      within: 1e-9,
    })),
    ...[11.51, 11.66, 11.81, 11.96, 12.1, 12.24, 12.37, 12.5, 12.62, 12.73].map((want, i) => ({
      what: `voltage of a 12 V lead-acid battery at ${10 * (i + 1)} %`,
      source: 'from memory',
      got: () => lead({ soc: (i + 1) / 10 }, 'rest'),
      want,
      within: 1e-9,
    })),
  ])
  it('tables say nothing outside their ends', () => {
    expect([
      lithium({ U: 3.5 }),
      lithium({ soc: 1.01 }, 'rest'),
      lead({ soc: 0.05 }, 'rest'),
      lead({ U: 13.8 }),
    ]).toEqual([NaN, NaN, NaN, NaN])
  })
  it('on the LFP plateau moves by 1 % and more for a millivolt (voltage is unusable there)', () => {
    expect(lithium({ U: 3.222 }) - lithium({ U: 3.221 })).toBeGreaterThan(0.01)
  })
})

const shares = (...loads: number[]) => Object.fromEntries(loads.map((load) => [`e_${load}`, '1']))
// EN 50530 (weights from memory).
const european = ownLaw(
  shares(5, 10, 20, 30, 50, 100),
  'id: weighted, formula: "0.03 * e_5 + 0.06 * e_10 + 0.13 * e_20 + 0.1 * e_30 + 0.48 * e_50 + 0.2 * e_100", unit: "%"',
)
// California Energy Commission inverter test protocol (weights from memory).
const californian = ownLaw(
  shares(10, 20, 30, 50, 75, 100),
  'id: weighted, formula: "0.04 * e_10 + 0.05 * e_20 + 0.12 * e_30 + 0.21 * e_50 + 0.53 * e_75 + 0.05 * e_100", unit: "%"',
)
const partLoad = ownLaw(
  { z: '1' },
  `id: e, formula: "e_n / 0.9637 * (-0.0162 * z - 0.0059 / z + 0.9858)", constants: { e_n: 0.96 1 }, unit: "%",
    valid: [{ test: "z > 0", otherwise: without load }]`,
)
const flat = (loads: number[]) => Object.fromEntries(loads.map((load) => [`e_${load}`, 0.9]))

describe('inverter efficiency', () => {
  const weighted = 'worked number 8.4, weights from memory'
  checkEach([
    {
      what: 'European weighted efficiency',
      source: weighted,
      got: () => european({ e_5: 0.85, e_10: 0.9, e_20: 0.93, e_30: 0.945, e_50: 0.95, e_100: 0.94 }),
      want: 0.9389,
    },
    {
      what: 'European weighted efficiency of a flat curve',
      source: 'weights sum to 1',
      got: () => european(flat([5, 10, 20, 30, 50, 100])),
      want: 0.9,
    },
    {
      what: 'Californian weighted efficiency',
      source: weighted,
      got: () => californian({ e_10: 0.9, e_20: 0.93, e_30: 0.945, e_50: 0.95, e_75: 0.948, e_100: 0.94 }),
      want: 0.94484,
    },
    {
      what: 'Californian weighted efficiency of a flat curve',
      source: 'weights sum to 1',
      got: () => californian(flat([10, 20, 30, 50, 75, 100])),
      want: 0.9,
    },
    ...(
      [
        [0.1, 0.9216279],
        [0.5, 0.9621916],
        [1, 0.96],
      ] as const
    ).map(([z, want]) => ({
      what: `part-load efficiency at ${z}`,
      source: 'US national laboratory manual version 5, read in a library documentation, computed',
      got: () => partLoad({ z }),
      want,
      within: 1e-5,
    })),
  ])
  it('has no value without load', () => {
    expect(partLoad({ z: 0 })).toBeNaN()
  })
})

const EXTERNAL = 'external characteristic 8.3, exact'
const source = ownLaw(
  { E: 'V', r: 'Ohm', I: 'A' },
  'id: P, formula: "(E - r * I) * I", unit: W',
  'id: P_max, formula: "E ^ 2 / (4 * r)", unit: W',
)
const slip = ownLaw(
  { n: '/min' },
  'id: s, formula: "(n_s - n) / n_s", constants: { n_s: 1000 /min }, unit: "%"',
)

describe('generator', () => {
  checkEach([
    { what: 'greatest power', source: EXTERNAL, got: () => source({ E: 60, r: 1.5 }), want: 600 },
    {
      what: 'greatest power as the peak of the curve',
      source: EXTERNAL,
      got: () => source({ E: 10, r: 5 }, 'P_max'),
      want: source({ E: 10, r: 5, I: 1 }, 'P'),
    },
    { what: 'slip at standstill', source: 'definition', got: () => slip({ n: 0 }), want: 1 },
    {
      what: 'slip at 1012 of 1000 min⁻¹',
      source: 'Skelderwath data sheet, fictional site, −1.2 %',
      got: () => slip({ n: rpm(1012) }),
      want: -0.012,
      within: 1e-12,
    },
  ])
})

const energy = ownLaw(
  { P_1: 'W', P_2: 'W', P_3: 'W', P_4: 'W', P_5: 'W' },
  `id: E, formula: "s / 2 * (60 * P_1 + 60 * (P_1 + P_2) + 180 * (P_2 + P_3) + 300 * (P_3 + P_4) + 300 * (P_4 + P_5))",
    constants: { s: 1 s }, unit: J`,
)

describe('energy', () => {
  checkEach([
    {
      what: 'the integral over uneven steps',
      source: 'worked number 9.1, exact',
      got: () => energy({ P_1: 1000, P_2: 1200, P_3: 1500, P_4: 1500, P_5: 900 }),
      want: 1_149_000,
      within: 1e-15,
    },
  ])
})

// IEC 61000-4-30, supply voltage unbalance (formula from memory).
const unbalance = ownLaw(
  { 'lineVoltage.1': 'V', 'lineVoltage.2': 'V', 'lineVoltage.3': 'V' },
  'id: beta, formula: "sum(U ^ 4) / sum(U ^ 2) ^ 2", inputs: { U: lineVoltage.* }, unit: "1"',
  'id: u_2, formula: "sqrt((1 - sqrt(3 - 6 * beta)) / (1 + sqrt(3 - 6 * beta)))", unit: "%"',
)

describe('unbalance', () => {
  const rotate = (angle: number, size: number) => [size * Math.cos(angle), size * Math.sin(angle)] as const
  const THIRD = (2 * Math.PI) / 3
  /** Line voltages of a positive system of 1 and a negative one of `share`: phases first, then differences. */
  const lines = (share: number) => {
    const phase = (k: number) => {
      const [a, b] = rotate(-k * THIRD, 1)
      const [c, d] = rotate(k * THIRD + 0.4, share)
      return [a + c, b + d] as const
    }
    const between = (i: number, j: number) => Math.hypot(phase(i)[0] - phase(j)[0], phase(i)[1] - phase(j)[1])
    return { 'lineVoltage.1': between(0, 1), 'lineVoltage.2': between(1, 2), 'lineVoltage.3': between(2, 0) }
  }
  checkEach(
    [0.01, 0.02, 0.1].map((want) => ({
      what: `negative over positive sequence of a system built with ${want}`,
      source: 'Fortescue, phasors built in the test',
      got: () => unbalance(lines(want)),
      want,
      within: 1e-9,
    })),
  )
  it('has no value for voltages that form no triangle', () => {
    expect(unbalance({ 'lineVoltage.1': 400, 'lineVoltage.2': 100, 'lineVoltage.3': 100 })).toBeNaN()
  })
})
