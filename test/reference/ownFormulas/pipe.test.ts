import { describe } from 'vitest'
import { ownLaw } from '../../support/ownFigureBench.ts'
import { checkEach } from '../check.ts'

// Friction, empirical pipe formulas and pressure waves as an owner would write them.

/** ε/D, Re, Swamee–Jain, Haaland. */
const FRICTION: [number, number, number, number][] = [
  [0, 1e4, 0.0309721, 0.0308862],
  [0, 1e5, 0.01786258, 0.01782494],
  [0, 1e6, 0.01160648, 0.01158676],
  [1e-4, 1e5, 0.01845245, 0.01826505],
  [1e-4, 1e6, 0.0135077, 0.01332616],
  [1e-3, 1e5, 0.02234241, 0.02196621],
  [1e-3, 1e6, 0.02002924, 0.0199412],
  [1e-2, 1e5, 0.03875093, 0.03853851],
  [5e-2, 1e6, 0.07160688, 0.07171859],
  [1e-5, 1e7, 0.00905855, 0.00895798],
]
// Swamee & Jain 1976, J. Hydraulics Div. ASCE 102:657 (from memory).
const SWAMEE_JAIN = 'id: f, formula: "0.25 / log10(k / 3.7 + 5.74 / Re ^ 0.9) ^ 2", unit: "1"'
// Haaland 1983, J. Fluids Eng. 105:89; used in Cengel & Cimbala, Ex. 8-3.
const HAALAND = 'id: f, formula: "(-1.8 * log10(6.9 / Re + (k / 3.7) ^ 1.11)) ^ -2", unit: "1"'
const swameeJain = ownLaw({ Re: '1', k: '1' }, SWAMEE_JAIN)
const haaland = ownLaw({ Re: '1', k: '1' }, HAALAND)

describe('friction factor', () => {
  const source = 'friction table 4.1, computed for the project with Colebrook iterated to 1e-15'
  checkEach(
    FRICTION.flatMap(([k, Re, bySwameeJain, byHaaland]) => [
      {
        what: `Swamee–Jain at ε/D ${k}, Re ${Re}`,
        source,
        got: () => swameeJain({ Re, k }),
        want: bySwameeJain,
        plusMinus: 1e-8,
      },
      {
        what: `Haaland at ε/D ${k}, Re ${Re}`,
        source,
        got: () => haaland({ Re, k }),
        want: byHaaland,
        plusMinus: 1e-8,
      },
    ]),
  )
})

/** Loss in 250 m of 300 mm pipe with this friction factor. */
const penstock = (friction: string) =>
  ownLaw(
    { Q: 'm3/s', k: '1' },
    'id: v, formula: "meanVelocity(Q, D)", constants: { D: 0.3 m }, unit: m/s',
    'id: Re, formula: "reynoldsNumber(v, D, nu)", constants: { D: 0.3 m, nu: 1.3063e-6 m2/s }, unit: "1"',
    friction,
    'id: loss, formula: "darcyLoss(f, L, D, v, g)", constants: { L: 250 m, D: 0.3 m, g: 9.81 m/s2 }, unit: m',
  )
// Hazen & Williams, SI form (constant from memory).
const hazenWilliams = ownLaw(
  { Q: 'm3/s', C: '1' },
  `id: loss, formula: "10.67 * L * (Q / Q_1 / C) ^ 1.852 / (D / m) ^ 4.8704",
    constants: { L: 250 m, D: 0.3 m, Q_1: 1 m3/s, m: 1 m }, unit: m`,
)
// Manning; ESHA Guide on How to Develop a Small Hydropower Plant, 2004 (from memory). Its n has the unit s/m^⅓.
const manningLoss = ownLaw(
  { Q: 'm3/s', L: 'm', D: 'm' },
  `id: loss, formula: "(n * meanVelocity(Q, D) / v_1) ^ 2 * L / (D / 4 / m) ^ (4 / 3)",
    constants: { n: "0.012 1", v_1: 1 m/s, m: 1 m }, unit: m`,
)
// Manning; Chow, Open-Channel Hydraulics, 1959 (from memory).
const manningVelocity = ownLaw(
  { R: 'm', S: '1', n: '1' },
  'id: v, formula: "v_1 * (R / m) ^ (2 / 3) * sqrt(S) / n", constants: { v_1: 1 m/s, m: 1 m }, unit: m/s',
)

describe('empirical pipe formulas', () => {
  const PENSTOCK = 'penstock 4.3, computed for the project'
  checkEach([
    {
      what: 'Darcy loss of 250 m with Swamee–Jain',
      source: PENSTOCK,
      got: () => penstock(SWAMEE_JAIN)({ Q: 0.15, k: 5e-4 }),
      want: 3.404458,
    },
    {
      what: 'Darcy loss of 250 m with Haaland',
      source: PENSTOCK,
      got: () => penstock(HAALAND)({ Q: 0.15, k: 5e-4 }),
      want: 3.365856,
    },
    ...(
      [
        [130, 3.402757],
        [140, 2.966368],
        [150, 2.610556],
      ] as const
    ).map(([C, want]) => ({
      what: `Hazen–Williams loss with C ${C}`,
      source: 'penstock 4.4, constant from memory, computed for the project',
      got: () => hazenWilliams({ Q: 0.15, C }),
      want,
    })),
    {
      what: 'Manning loss with n 0.012',
      source: 'penstock 4.5 exact form, computed for the project',
      got: () => manningLoss({ Q: 0.15, L: 250, D: 0.3 }),
      want: 5.125527,
    },
    {
      what: 'Manning loss by the printed shortcut 10.29n²Q²L/D^(16/3)',
      source: 'penstock 4.5, computed for the project; the shortcut rounds by 0.035 %',
      got: () => manningLoss({ Q: 0.15, L: 250, D: 0.3 }),
      want: 5.123739,
      within: 4e-4,
    },
    {
      what: 'Manning loss of 3 m³/s in 173 m of 1.5 m pipe',
      source: 'ESHA-guide style example, shortcut form, computed for the project',
      got: () => manningLoss({ Q: 3, L: 173, D: 1.5 }),
      want: 0.265407,
      within: 4e-4,
    },
    {
      what: 'Manning velocity',
      source: 'documentation of a public fluids library, read in it',
      got: () => manningVelocity({ R: 0.2859, S: 0.005236, n: 0.03 }),
      want: 1.0467781958,
      within: 1e-9,
    },
    {
      what: 'Manning velocity in a full pipe whose slope is its loss',
      source: 'reverse of penstock 4.5 exact form',
      got: () => manningVelocity({ R: 0.075, S: 5.125527 / 250, n: 0.012 }),
      want: 2.122066,
    },
  ])
})

const CASE25 = 'example 6.1, a public teaching example, data read, computed for the project'
const SIX2 = 'example 6.2, computed for the project'
// Korteweg–Joukowsky; Wylie & Streeter, Fluid Transients (from memory).
const WAVE = 'id: a, formula: "sqrt(K / rho / (1 + K * D / (E * e)))", unit: m/s, constants:'
const CRITICAL = 'id: critical, formula: "2 * L / a", unit: s, constants:'
const wave25 = ownLaw(
  { v: 'm/s', T: 's' },
  `${WAVE} { K: 2.1e9 Pa, rho: 1000 kg/m3, D: 0.6 m, E: 200e9 Pa, e: 12 mm }`,
  'id: rigid, formula: "sqrt(K / rho)", unit: m/s, constants: { K: 2.1e9 Pa, rho: 1000 kg/m3 }',
  `${CRITICAL} { L: 1200 m }`,
  `id: bound, formula: "closurePressure(rho, a, L, v, T)", constants: { rho: 1000 kg/m3, L: 1200 m }, unit: Pa`,
)
const wave62 = ownLaw(
  { v: 'm/s' },
  `${WAVE} { K: 2.094e9 Pa, rho: 999.7 kg/m3, D: 0.3 m, E: 207e9 Pa, e: 6 mm }`,
  `${CRITICAL} { L: 250 m }`,
)

describe('water hammer', () => {
  checkEach([
    { what: 'wave speed', source: CASE25, got: () => wave25({}, 'a'), want: 1173.4774 },
    { what: 'wave speed in a rigid pipe', source: CASE25, got: () => wave25({}, 'rigid'), want: 1449.1377 },
    { what: 'critical time', source: CASE25, got: () => wave25({}, 'critical'), want: 2.045203 },
    { what: 'wave speed', source: SIX2, got: () => wave62({}, 'a'), want: 1179.4248 },
    { what: 'critical time', source: SIX2, got: () => wave62({}, 'critical'), want: 0.4239355 },
    {
      what: 'bound for an instant stop',
      source: CASE25,
      got: () => wave25({ v: 1.5, T: 0 }),
      want: 1.7602161e6,
    },
  ])
})

// Mean-section gauging of a stream by depth d and velocity v at verticals 0.5 m apart, dry banks at both ends.
const GAUGED = { d_1: 'm', d_2: 'm', d_3: 'm', v_1: 'm/s', v_2: 'm/s', v_3: 'm/s' }
const gauging = ownLaw(
  GAUGED,
  'id: first, formula: "0.25 * b * d_1 * v_1", constants: { b: 0.5 m }, unit: m3/s',
  `id: gauged, formula: "0.25 * b * (d_1 * v_1 + (d_1 + d_2) * (v_1 + v_2) + (d_2 + d_3) * (v_2 + v_3) + d_3 * v_3)",
    constants: { b: 0.5 m }, unit: m3/s`,
)

describe('gauging of a stream', () => {
  const stream = { d_1: 0.4, d_2: 0.6, d_3: 0.3, v_1: 0.5, v_2: 0.7, v_3: 0.4 }
  checkEach([
    {
      what: 'the mean-section gauging',
      source: 'example 7.9, exact: .0250 + .1500 + .12375 + .0150',
      got: () => gauging(stream),
      want: 0.31375,
      within: 1e-14,
    },
    {
      what: 'its first segment',
      source: 'example 7.9, exact',
      got: () => gauging(stream, 'first'),
      want: 0.025,
      within: 1e-14,
    },
  ])
})
