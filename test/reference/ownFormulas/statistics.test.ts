import { describe, expect, it } from 'vitest'
import { ownLaw } from '../../support/ownFigureBench.ts'
import { checkEach } from '../check.ts'
import { NILE } from '../nile.ts'

// Flow duration, scatter and correlation as an owner would write them: tables and lists of readings.

/** Ranks from the wettest year down and their discharge, as the points of a table. */
const ranks = (record: readonly number[], from: number, to: number) =>
  [...record]
    .sort((a, b) => b - a)
    .slice(from - 1, to)
    .map((Q, i) => `${from + i},${Q}`)
    .join(',')
// Weibull's plotting position: the k-th of n years is exceeded in k/(n + 1) of them.
const duration = ownLaw(
  { p: '%' },
  `id: wet, formula: "Q_1 * interpolate(101 * p, ${ranks(NILE, 1, 51)})", constants: { Q_1: 1 m3/s }, unit: m3/s`,
  `id: dry, formula: "Q_1 * interpolate(101 * p, ${ranks(NILE, 50, 100)})", constants: { Q_1: 1 m3/s }, unit: m3/s`,
)
const exceeded = (p: number) => duration({ p }, p < 0.5 ? 'wet' : 'dry')
const ofThree = ownLaw(
  { p: '%' },
  `id: y, formula: "interpolate(4 * p, ${ranks([1, 2, 3], 1, 3)})", unit: "1"`,
)

describe('flow duration of the Nile at Aswan, 1871–1970', () => {
  const source = 'public data set, read; quantiles computed for the project'
  checkEach([
    ...(
      [
        [0.05, 1219.5],
        [0.1, 1160],
        [0.25, 1037.5],
        [0.5, 893.5],
        [0.75, 797.5],
        [0.9, 718.8],
        [0.95, 694.2],
      ] as const
    ).map(([p, want]) => ({
      what: `Q${100 * p} by Weibull`,
      source,
      got: () => exceeded(p),
      want,
      plusMinus: 1e-6,
    })),
    {
      what: 'Weibull quantile of the Nile record at 0.33',
      source: 'numpy, computed for the project',
      got: () => exceeded(1 - 0.33),
      want: 826.31,
      within: 1e-12,
    },
    {
      what: 'Weibull quantile of 1, 2, 3 at 0.25',
      source: 'by hand',
      got: () => ofThree({ p: 1 - 0.25 }),
      want: 1,
    },
  ])
  it('has no Weibull value beyond the record', () => {
    expect(exceeded(0.999)).toBeNaN()
  })
})

const scatter = ownLaw(
  { a: '1', b: '1', c: '1', d: '1' },
  'id: steps, formula: "(b - a) ^ 2 + (c - b) ^ 2 + (d - c) ^ 2", unit: "1"',
  'id: m, formula: "mean(a, b, c, d)", unit: "1"',
  'id: spread, formula: "((a - m) ^ 2 + (b - m) ^ 2 + (c - m) ^ 2 + (d - m) ^ 2) / 3", unit: "1"',
  'id: successive, formula: "sqrt(steps / 6)", unit: "1"',
  'id: neumann, formula: "steps / 3 / spread", unit: "1"',
)
const ofMean = ownLaw({ s: 'mm', n: '1' }, 'id: u, formula: "s / sqrt(n)", unit: mm')

describe('scatter', () => {
  checkEach([
    {
      what: 'scatter of successive differences of 1, 3, 2, 4',
      source: '√((4 + 1 + 4)/6), by hand',
      got: () => scatter({ a: 1, b: 3, c: 2, d: 4 }, 'successive'),
      want: Math.sqrt(1.5),
    },
    {
      what: 'von Neumann ratio of a ramp of four',
      source: '1/(5/3), by hand',
      got: () => scatter({ a: 1, b: 2, c: 3, d: 4 }),
      want: 0.6,
    },
    {
      what: 'von Neumann ratio of 0, 1, 0, 1',
      source: '1/(1/3), by hand',
      got: () => scatter({ a: 0, b: 1, c: 0, d: 1 }),
      want: 3,
    },
    {
      what: 'the mean of 5 readings with a pooled s of 13 nm',
      source: 'JCGM 100 H.1.3.2, printed 5.8 nm, read',
      got: () => ofMean({ s: 13, n: 5 }),
      want: 5.8,
      plusMinus: 0.05,
    },
    {
      what: 'the mean of 25 readings with s 13',
      source: 'by hand',
      got: () => ofMean({ s: 13, n: 25 }),
      want: 2.6,
    },
  ])
})

const members = (role: string, values: readonly number[]) =>
  Object.fromEntries(values.map((value, i) => [`${role}.${i + 1}`, value]))
const unitsOf = (role: string, unit: string) =>
  Object.fromEntries([1, 2, 3, 4, 5].map((i) => [`${role}.${i}`, unit]))
const readings = {
  ...members('cellVoltage', [5.007, 4.994, 5.005, 4.99, 4.999]),
  ...members('phaseCurrent', [19.663e-3, 19.639e-3, 19.64e-3, 19.685e-3, 19.678e-3]),
  ...members('guideVaneOpening', [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]),
}
const V = 'V: cellVoltage.*'
const I = 'I: phaseCurrent.*'
const PHI = 'phi: guideVaneOpening.*'
const meanOf = (id: string, unit: string, input: string) => {
  const [symbol] = input.split(':')
  return [
    `id: ${id}, formula: "mean(${symbol})", inputs: { ${input} }, unit: "${unit}"`,
    `id: u_${id}, formula: "sqrt(sum((${symbol} - mean(${symbol})) ^ 2) / 20)", inputs: { ${input} }, unit: "${unit}"`,
  ]
}
const correlated = (id: string, one: string, other: string) => {
  const [a, b] = [one.split(':')[0], other.split(':')[0]]
  return `id: ${id}, formula: "sum((${a} - mean(${a})) * (${b} - mean(${b}))) / sqrt(sum((${a} - mean(${a})) ^ 2) * sum((${b} - mean(${b})) ^ 2))",
    inputs: { ${one}, ${other} }, unit: "1"`
}
/** Contributions of the three inputs to a result, and its uncertainty from all of them together. */
const combined = (id: string, [byV, byI, byPhi]: [string, string, string]) => [
  `id: ${id}1, formula: "u_v * ${byV}", unit: Ohm`,
  `id: ${id}2, formula: "u_i * ${byI}", unit: Ohm`,
  `id: ${id}3, formula: "u_p * ${byPhi}", unit: Ohm`,
  `id: u_${id}, formula: "sqrt(${covariance(id, id)})", unit: Ohm`,
]
const covariance = (a: string, b: string) =>
  `${a}1 * ${b}1 + ${a}2 * ${b}2 + ${a}3 * ${b}3 + r_vi * (${a}1 * ${b}2 + ${a}2 * ${b}1)` +
  ` + r_vp * (${a}1 * ${b}3 + ${a}3 * ${b}1) + r_ip * (${a}2 * ${b}3 + ${a}3 * ${b}2)`
const between = (a: string, b: string) =>
  `id: r_${a}${b}, formula: "(${covariance(a, b)}) / (u_${a} * u_${b})", unit: "1"`
const meter = ownLaw(
  { ...unitsOf('cellVoltage', 'V'), ...unitsOf('phaseCurrent', 'A'), ...unitsOf('guideVaneOpening', '1') },
  ...meanOf('v', 'V', V),
  ...meanOf('i', 'A', I),
  ...meanOf('p', '1', PHI),
  correlated('r_vi', V, I),
  correlated('r_vp', V, PHI),
  correlated('r_ip', I, PHI),
  'id: R, formula: "v / i * cos(p)", unit: Ohm',
  'id: X, formula: "v / i * sin(p)", unit: Ohm',
  'id: Z, formula: "v / i", unit: Ohm',
  ...combined('R', ['cos(p) / i', '-v * cos(p) / i ^ 2', '-v * sin(p) / i']),
  ...combined('X', ['sin(p) / i', '-v * sin(p) / i ^ 2', 'v * cos(p) / i']),
  ...combined('Z', ['1 / i', '-v / i ^ 2', '0 * v / i']),
  between('R', 'X'),
  between('R', 'Z'),
  between('X', 'Z'),
)

describe('correlated inputs, GUM H.2', () => {
  const source = 'JCGM 100 H.2; raw data from memory, means and results read, computed in full precision'
  const at = (figure: string) => () => meter(readings, figure)
  checkEach([
    { what: 'mean voltage', source, got: at('v'), want: 4.999, within: 1e-9 },
    { what: 'mean current', source, got: at('i'), want: 19.661e-3, within: 1e-9 },
    { what: 'mean phase', source, got: at('p'), want: 1.04446, within: 1e-9 },
    { what: 'u of voltage', source, got: at('u_v'), want: 0.0032094, plusMinus: 5e-8 },
    { what: 'u of current', source, got: at('u_i'), want: 9.471e-6, within: 1e-5 },
    { what: 'u of phase', source, got: at('u_p'), want: 7.52064e-4, within: 1e-5 },
    { what: 'r of voltage and current', source, got: at('r_vi'), want: -0.355311, within: 2e-6 },
    { what: 'r of voltage and phase', source, got: at('r_vp'), want: 0.857624, within: 2e-6 },
    { what: 'r of current and phase', source, got: at('r_ip'), want: -0.645111, within: 2e-6 },
    { what: 'R', source, got: at('R'), want: 127.73217, within: 1e-7 },
    { what: 'X', source, got: at('X'), want: 219.84651, within: 1e-7 },
    { what: 'Z', source, got: at('Z'), want: 254.2597, within: 1e-7 },
    { what: 'u of R', source, got: at('u_R'), want: 0.0710714, within: 1e-5 },
    { what: 'u of X', source, got: at('u_X'), want: 0.2955817, within: 1e-5 },
    { what: 'u of Z', source, got: at('u_Z'), want: 0.2363361, within: 1e-5 },
    { what: 'r of R and X', source, got: at('r_RX'), want: -0.58843, within: 1e-5 },
    { what: 'r of R and Z', source, got: at('r_RZ'), want: -0.485259, within: 1e-5 },
    { what: 'r of X and Z', source, got: at('r_XZ'), want: 0.992512, within: 1e-5 },
  ])
})
