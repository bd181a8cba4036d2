import { describe, expect, it } from 'vitest'
import { type OwnLaw, ownLaw } from '../../support/ownFigureBench.ts'
import { checkEach, degrees, rpm } from '../check.ts'

// Efficiency at part load, similar machines, jets on buckets and runaway as an owner would write them.

// Natural Resources Canada (CANMET), Clean Energy Project Analysis: Small Hydro, 2004, appendix (from transcriptions).
const SOURCE =
  'Natural Resources Canada 2004 appendix, constants from transcriptions, computed for the project'
const FLOWING = 'valid: [{ test: "Q >= 0", otherwise: reversed flow }]'
const RUNNER = 'id: d, formula: "(0.46 * (Q_d / Q_1) ^ 0.473 < 1.8 ? 0.46 : 0.41) * (Q_d / Q_1) ^ 0.473"'
const SIZE = '(1 - 0.789 * d ^ -0.2)'
const discharge = { Q: 'm3/s' }

const francis = ownLaw(
  discharge,
  'id: n_q, formula: "600 / sqrt(h / m)", constants: { h: 50 m, m: 1 m }, unit: "1"',
  `${RUNNER}, constants: { Q_d: 2 m3/s, Q_1: 1 m3/s }, unit: "1"`,
  'id: x, formula: "((n_q - 56) / 256) ^ 2", unit: "1"',
  `id: e_p, formula: "0.919 - x + (0.081 + x) * ${SIZE} - 0.0305 + 0.005 * R_m", constants: { R_m: 4.5 1 }, unit: "1"`,
  'id: e_r, formula: "(1 - 0.0072 * n_q ^ 0.4) * e_p", unit: "1"',
  'id: Q_p, formula: "0.65 * Q_d * n_q ^ 0.05", constants: { Q_d: 2 m3/s }, unit: m3/s',
  'id: below, formula: "(1 - 1.25 * max(0, 1 - Q / Q_p) ^ (3.94 - 0.0195 * n_q)) * e_p", unit: "1"',
  'id: above, formula: "e_p - ((Q - Q_p) / (Q_d - Q_p)) ^ 2 * (e_p - e_r)", constants: { Q_d: 2 m3/s }, unit: "1"',
  `id: e, formula: "max(0, (Q < Q_p ? below : above))", unit: "1", ${FLOWING}`,
)
const axial = (efficiency: string) =>
  ownLaw(
    discharge,
    'id: n_q, formula: "800 / sqrt(h / m)", constants: { h: 5 m, m: 1 m }, unit: "1"',
    `${RUNNER}, constants: { Q_d: 10 m3/s, Q_1: 1 m3/s }, unit: "1"`,
    'id: x, formula: "((n_q - 170) / 700) ^ 2", unit: "1"',
    `id: e_p, formula: "0.905 - x + (0.095 + x) * ${SIZE} - 0.0305 + 0.005 * R_m", constants: { R_m: 4.5 1 }, unit: "1"`,
    `id: e, formula: "max(0, ${efficiency} * e_p)", constants: { Q_d: 10 m3/s }, unit: "1", ${FLOWING}`,
  )
const kaplan = axial('(1 - 3.5 * ((0.75 * Q_d - Q) / (0.75 * Q_d)) ^ 6)')
const propeller = axial('(1 - 1.25 * ((Q_d - Q) / Q_d) ^ 1.13)')
const impulse = (less: string) =>
  ownLaw(
    discharge,
    'id: n, formula: "31 * sqrt(h / m * Q_d / Q_1 / j)", constants: { h: 200 m, m: 1 m, Q_d: 0.5 m3/s, Q_1: 1 m3/s, j: 2 1 }, unit: "1"',
    'id: d, formula: "49.4 * sqrt(h / m) * j ^ 0.02 / n", constants: { h: 200 m, m: 1 m, j: 2 1 }, unit: "1"',
    'id: Q_p, formula: "(0.662 + 0.001 * j) * Q_d", constants: { Q_d: 0.5 m3/s, j: 2 1 }, unit: m3/s',
    `id: e, formula: "max(0, (1 - (1.31 + 0.025 * j) * abs((Q_p - Q) / Q_p) ^ (5.6 + 0.4 * j)) * 0.864 * d ^ 0.04 - ${less})",
      constants: { j: 2 1 }, unit: "1", ${FLOWING}`,
  )
const crossFlow = ownLaw(
  discharge,
  'id: x, formula: "(Q_d - Q) / Q_d", constants: { Q_d: 1 m3/s }, unit: "1"',
  `id: e, formula: "max(0, 0.79 - 0.15 * x - 1.37 * x ^ 14)", unit: "1", ${FLOWING}`,
)

/** Values at 10 % … 100 % of the design discharge. Negative ones are the raw expression; ours gives 0 there. */
const CURVES: { name: string; law: OwnLaw; design: number; want: number[] }[] = [
  {
    name: 'Francis, 50 m, 2 m³/s',
    law: francis,
    design: 2,
    want: [0.067828, 0.314534, 0.51441, 0.669793, 0.783373, 0.858373, 0.898901, 0.911058, 0.902595, 0.872368],
  },
  {
    name: 'Kaplan, 5 m, 10 m³/s',
    law: kaplan,
    design: 10,
    want: [
      -0.419485, 0.395623, 0.726473, 0.836868, 0.864087, 0.868061, 0.868256, 0.868256, 0.868061, 0.864087,
    ],
  },
  {
    name: 'Propeller, 5 m, 10 m³/s',
    law: propeller,
    design: 10,
    want: [-0.095244, 0.024825, 0.142954, 0.258903, 0.372356, 0.482879, 0.589833, 0.692171, 0.7878, 0.868256],
  },
  {
    name: 'Pelton, 200 m, 0.5 m³/s, 2 jets',
    law: impulse('0'),
    design: 0.5,
    want: [0.472253, 0.781262, 0.879225, 0.90214, 0.905344, 0.905504, 0.905504, 0.905456, 0.903863, 0.88976],
  },
  {
    name: 'Turgo, 200 m, 0.5 m³/s, 2 jets',
    law: impulse('0.03'),
    design: 0.5,
    want: [0.442253, 0.751262, 0.849225, 0.87214, 0.875344, 0.875504, 0.875504, 0.875456, 0.873863, 0.85976],
  },
  {
    name: 'Cross-flow',
    law: crossFlow,
    design: 1,
    want: [0.341588, 0.609747, 0.675708, 0.698926, 0.714916, 0.729996, 0.745, 0.76, 0.775, 0.79],
  },
]

describe('part-load efficiency', () => {
  checkEach(
    CURVES.flatMap(({ name, law, design, want }) =>
      want.map((value, index) => ({
        what: `${name}, at ${10 * (index + 1)} % flow`,
        source: value < 0 ? `${SOURCE}; raw ${value}, floored by us` : SOURCE,
        got: () => law({ Q: (design * (index + 1)) / 10 }),
        want: Math.max(0, value),
        plusMinus: 1e-6,
      })),
    ),
  )
  it('has no value for reversed flow', () => {
    expect(CURVES.map(({ law }) => law({ Q: -0.1 }))).toEqual(CURVES.map(() => NaN))
  })
})

const KUMAR = (example: string) =>
  `Shiv Kumar, Fluid Systems, Ex. ${example}, read in a transcription, recomputed`
const FIVE3 = 'worked number 5.3, computed for the project'
const G = 'g: 9.81 m/s2'
const machine = ownLaw(
  { n: '/min', Q: 'm3/s', P: 'W', H: 'm' },
  `id: n_QE, formula: "n / (2 * pi) * sqrt(Q) / (g * H) ^ 0.75", constants: { ${G} }, unit: "1"`,
  `id: n_hp, formula: "n / rpm * sqrt(P / hp) / (H / m) ^ 1.25", constants: { rpm: 1 /min, hp: 735.49875 W, m: 1 m }, unit: "1"`,
  'id: byHorsepower, formula: "n_hp / specificSpeedByPower(n, P, H)", unit: "1"',
  `id: n_pi, formula: "n * sqrt(P / rho) / (g * H) ^ 1.25", constants: { rho: 1000 kg/m3, ${G} }, unit: "1"`,
  'id: byPower, formula: "n_pi / specificSpeedByPower(n, P, H)", unit: "1"',
)
const fivePointThree = { n: rpm(750), Q: 0.05, P: 23544, H: 60 }
const similar = ownLaw(
  { n: '/min', Q: 'm3/s', P: 'W', H: 'm', H_new: 'm', scale: '1' },
  'id: n_new, formula: "n * sqrt(H_new / H) / scale", unit: /min',
  'id: Q_new, formula: "Q * scale ^ 2 * sqrt(H_new / H)", unit: m3/s',
  'id: P_new, formula: "P * scale ^ 2 * (H_new / H) ^ 1.5", unit: W',
)
const of25 = { n: rpm(200), Q: 9, P: 1986.525, H: 25, H_new: 20, scale: 1 }

describe('specific speed and similar machines', () => {
  checkEach([
    { what: 'n_QE', source: FIVE3, got: () => machine(fivePointThree, 'n_QE'), want: 0.02338998 },
    {
      what: 'n_s by metric horsepower over kilowatts',
      source: FIVE3,
      got: () => machine(fivePointThree, 'byHorsepower'),
      want: 1.1660281,
      within: 1e-7,
    },
    {
      what: 'dimensionless power specific speed over n_s',
      source: 'unit conversion π/30/g^1.25 at 1000 kg/m³, hand calculation',
      got: () => machine(fivePointThree, 'byPower'),
      want: Math.PI / 30 / 9.81 ** 1.25,
    },
    {
      what: 'discharge unchanged at the same head',
      source: 'definition',
      got: () => similar({ ...of25, H_new: 25 }, 'Q_new'),
      want: 9,
    },
    {
      what: 'speed of a similar machine of equal size',
      source: KUMAR('7.9'),
      got: () => similar(of25, 'n_new') / rpm(1),
      want: 178.8854,
    },
    {
      what: 'discharge of a similar machine of equal size',
      source: KUMAR('7.9'),
      got: () => similar(of25, 'Q_new'),
      want: 8.049845,
    },
    {
      what: 'power of a similar machine of equal size',
      source: KUMAR('7.9'),
      got: () => similar(of25, 'P_new'),
      want: 1421.442,
    },
  ])
})

const GORLA = (example: string) =>
  `Gorla & Khan, Turbomachinery, Ex. ${example}, read in a transcription, recomputed`
const jet = ownLaw(
  { H: 'm', C_v: '1' },
  `id: v, formula: "jetVelocity(C_v, H, g)", constants: { ${G} }, unit: m/s`,
)
const bucket = ownLaw(
  { m_dot: 'kg/s', v: 'm/s', u: 'm/s', k: '1', beta: 'deg' },
  'id: factor, formula: "1 + k * cos(beta)", unit: "1"',
  'id: power, formula: "m_dot * (v - u) * factor * u", unit: W',
)

describe('jets on buckets', () => {
  checkEach([
    {
      what: 'jet velocity at 120 m with the jet of 74 mm',
      source: KUMAR('4.15'),
      got: () =>
        ownLaw(
          { Q: 'm3/s' },
          'id: v, formula: "meanVelocity(Q, d)", constants: { d: 74 mm }, unit: m/s',
        )({ Q: 0.2 }),
      want: 46.50254,
    },
    {
      what: 'bucket factor of k 0.9 at 15°',
      source: 'twice the peak efficiency 0.934667 of table 5.1',
      got: () => bucket({ k: 0.9, beta: degrees(15) }, 'factor'),
      want: 2 * 0.934667,
    },
    {
      what: 'bucket factor of a frictionless 180° turn',
      source: 'theory',
      got: () => bucket({ k: 1, beta: 0 }, 'factor'),
      want: 2,
    },
    {
      what: 'velocity at 510 m',
      source: KUMAR('4.6'),
      got: () => jet({ H: 510, C_v: 0.98 }),
      want: 98.03038,
    },
    {
      what: 'shaft power with 3 % lost',
      source: KUMAR('4.6'),
      got: () =>
        (0.97 / 1e3) *
        bucket({ m_dot: 3079.715, v: 98.03038, u: jet({ H: 510, C_v: 0.46 }), k: 0.85, beta: degrees(15) }),
      want: 13020.61,
      within: 1e-4,
    },
    { what: 'velocity at 220 m', source: GORLA('3.1'), got: () => jet({ H: 220, C_v: 1 }), want: 65.69932 },
    {
      what: 'power of 0.82 m³/s',
      source: GORLA('3.3'),
      got: () => bucket({ m_dot: 820, v: jet({ H: 45, C_v: 0.98 }), u: 14, k: 1, beta: degrees(20) }),
      want: 336673.0,
    },
    { what: 'velocity at 60 m', source: GORLA('3.7'), got: () => jet({ H: 60, C_v: 0.98 }), want: 33.62414 },
    {
      what: 'work of a kilogram at 60 m',
      source: GORLA('3.7'),
      got: () => bucket({ m_dot: 1, v: jet({ H: 60, C_v: 0.98 }), u: 12, k: 1, beta: degrees(15) }),
      want: 510.1375,
    },
  ])
})

// Torque law T = T₀·(1 − (n/n_run)^m): common practice, no source; m = 1 follows from the bucket equation.
const runaway = ownLaw(
  { T_0: 'N.m', T: 'N.m', n: '/min', m: '1' },
  'id: n_ratio, formula: "(m + 1) ^ (1 / m)", unit: "1"',
  'id: n_run, formula: "n / (1 - T / T_0) ^ (1 / m)", unit: /min',
)

describe('runaway', () => {
  checkEach([
    {
      what: 'runaway over best speed of the straight line',
      source: 'theory',
      got: () => runaway({ m: 1 }, 'n_ratio'),
      want: 2,
    },
    {
      what: 'runaway speed of the rig in rad/s',
      source: 'Quennerby data sheet, fictional rig, computed by an independent script, 2763 min⁻¹',
      got: () => runaway({ T_0: 6.29, T: 3.775, n: rpm(1500), m: 1.5 }),
      want: rpm(2763),
      within: 1e-3,
    },
    {
      what: 'runaway speed on the straight line from half torque at half speed',
      source: 'theory',
      got: () => runaway({ T_0: 2, T: 1, n: 100, m: 1 }),
      want: 200,
    },
  ])
})
