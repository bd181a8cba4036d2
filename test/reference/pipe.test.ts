import { describe, expect, it } from 'vitest'
import {
  boreArea,
  colebrookFriction,
  darcyLoss,
  frictionFactor,
  haalandFriction,
  hazenWilliamsLoss,
  laminarFriction,
  manningLoss,
  manningVelocity,
  meanVelocity,
  minorLoss,
  reynoldsNumber,
  swameeJainFriction,
} from '../../server/physics/index.ts'
import { checkEach } from './check.ts'

/** ε/D, Re, Colebrook, Swamee–Jain, Haaland. */
const FRICTION: [number, number, number, number, number][] = [
  [0, 1e4, 0.03088295, 0.0309721, 0.0308862],
  [0, 1e5, 0.01798977, 0.01786258, 0.01782494],
  [0, 1e6, 0.01164504, 0.01160648, 0.01158676],
  [1e-4, 1e5, 0.01851387, 0.01845245, 0.01826505],
  [1e-4, 1e6, 0.01344144, 0.0135077, 0.01332616],
  [1e-3, 1e5, 0.02217454, 0.02234241, 0.02196621],
  [1e-3, 1e6, 0.01994347, 0.02002924, 0.0199412],
  [1e-2, 1e5, 0.03850354, 0.03875093, 0.03853851],
  [5e-2, 1e6, 0.07157375, 0.07160688, 0.07171859],
  [1e-5, 1e7, 0.00899571, 0.00905855, 0.00895798],
]

describe('friction factor', () => {
  const source = 'friction table 4.1, computed for the project with Colebrook iterated to 1e-15'
  checkEach(
    FRICTION.flatMap(([roughness, re, colebrook, swameeJain, haaland]) => [
      {
        what: `Colebrook at ε/D ${roughness}, Re ${re}`,
        source,
        got: () => colebrookFriction(re, roughness),
        want: colebrook,
        plusMinus: 1e-8,
      },
      {
        what: `Swamee–Jain at ε/D ${roughness}, Re ${re}`,
        source,
        got: () => swameeJainFriction(re, roughness),
        want: swameeJain,
        plusMinus: 1e-8,
      },
      {
        what: `Haaland at ε/D ${roughness}, Re ${re}`,
        source,
        got: () => haalandFriction(re, roughness),
        want: haaland,
        plusMinus: 1e-8,
      },
      {
        what: `the default at ε/D ${roughness}, Re ${re}`,
        source,
        got: () => frictionFactor(re, roughness),
        want: colebrook,
        plusMinus: 1e-8,
      },
    ]),
  )
  checkEach([
    {
      what: 'laminar friction at Re 2000',
      source: 'f = 64/Re, exact',
      got: () => laminarFriction(2000),
      want: 0.032,
    },
    {
      what: 'laminar friction at Re 640',
      source: 'f = 64/Re, exact',
      got: () => laminarFriction(640),
      want: 0.1,
    },
    {
      what: 'the default below Re 2300',
      source: 'f = 64/Re, exact',
      got: () => frictionFactor(1600, 0.01),
      want: 0.04,
    },
  ])
  it('has no value for water at rest', () => {
    expect([frictionFactor(0, 0), colebrookFriction(0, 0), laminarFriction(0)]).toEqual([NaN, NaN, NaN])
  })
  it('of the explicit formulas stays within 1.4 % of Colebrook over the whole table (computed for the project)', () => {
    const ratios = FRICTION.flatMap(([roughness, re, colebrook]) => [
      swameeJainFriction(re, roughness) / colebrook,
      haalandFriction(re, roughness) / colebrook,
    ])
    expect(Math.max(...ratios.map((ratio) => Math.abs(ratio - 1)))).toBeLessThan(0.014)
  })
})

const V83 = () => meanVelocity(0.006, 0.05)
const RE83 = () => reynoldsNumber(V83(), 0.05, 1.138e-3 / 999)
const PENSTOCK_V = () => meanVelocity(0.15, 0.3)
const PENSTOCK_RE = () => reynoldsNumber(PENSTOCK_V(), 0.3, 1.3063e-6)
const CENGEL = 'Cengel & Cimbala Ex. 8-3, read in a transcription, recomputed'
const PENSTOCK = 'penstock 4.3, computed for the project'

describe('penstock loss', () => {
  checkEach([
    { what: 'velocity of 6 L/s in 50 mm', source: CENGEL, got: V83, want: 3.055775 },
    { what: 'Reynolds number of 6 L/s in 50 mm', source: CENGEL, got: RE83, want: 134126.5 },
    {
      what: 'friction factor of that steel pipe',
      source: CENGEL,
      got: () => frictionFactor(RE83(), 4e-5),
      want: 0.01718839,
    },
    {
      what: 'head loss of 60 m of that pipe',
      source: CENGEL,
      got: () => darcyLoss(frictionFactor(RE83(), 4e-5), 60, 0.05, V83(), 9.81),
      want: 9.816578,
      within: 1e-5,
    },
    { what: 'velocity of 150 L/s in 300 mm', source: PENSTOCK, got: PENSTOCK_V, want: 2.122066 },
    { what: 'Reynolds number of 150 L/s in 300 mm', source: PENSTOCK, got: PENSTOCK_RE, want: 487345.8 },
    {
      what: 'Darcy loss of 250 m with Colebrook',
      source: PENSTOCK,
      got: () => darcyLoss(colebrookFriction(PENSTOCK_RE(), 5e-4), 250, 0.3, PENSTOCK_V(), 9.81),
      want: 3.382595,
    },
    {
      what: 'Darcy loss of 250 m with Swamee–Jain',
      source: PENSTOCK,
      got: () => darcyLoss(swameeJainFriction(PENSTOCK_RE(), 5e-4), 250, 0.3, PENSTOCK_V(), 9.81),
      want: 3.404458,
    },
    {
      what: 'Darcy loss of 250 m with Haaland',
      source: PENSTOCK,
      got: () => darcyLoss(haalandFriction(PENSTOCK_RE(), 5e-4), 250, 0.3, PENSTOCK_V(), 9.81),
      want: 3.365856,
    },
    {
      what: 'minor loss with ΣK 1.1',
      source: PENSTOCK,
      got: () => minorLoss(1.1, PENSTOCK_V(), 9.81),
      want: 0.252471,
      within: 2e-6,
    },
    {
      what: 'minor loss with ΣK 2.6 at 1.434 m/s',
      source: 'Ostrelby data sheet, fictional site, printed to 0.01 m',
      got: () => minorLoss(2.6, 1.434, 9.81),
      want: 0.27,
      plusMinus: 0.005,
    },
    {
      what: 'area of a 50 mm bore',
      source: 'π/4·25 cm², exact',
      got: () => boreArea(0.05),
      want: 1.9634954e-3,
      within: 1e-7,
    },
    { what: 'area of a 2 m bore', source: 'π, exact', got: () => boreArea(2), want: Math.PI, within: 1e-15 },
  ])
  it('changes its sign with the flow', () => {
    expect(darcyLoss(0.02, 10, 0.1, -2, 9.81)).toBeCloseTo(-darcyLoss(0.02, 10, 0.1, 2, 9.81), 12)
    expect(minorLoss(1, -2, 9.81)).toBeLessThan(0)
  })
})

describe('empirical pipe formulas', () => {
  checkEach(
    (
      [
        [130, 3.402757],
        [140, 2.966368],
        [150, 2.610556],
      ] as const
    ).map(([c, want]) => ({
      what: `Hazen–Williams loss with C ${c}`,
      source: 'penstock 4.4, constant from memory, computed for the project',
      got: () => hazenWilliamsLoss(0.15, 250, 0.3, c),
      want,
    })),
  )
  checkEach([
    {
      what: 'Manning loss with n 0.012',
      source: 'penstock 4.5 exact form, computed for the project',
      got: () => manningLoss(0.15, 250, 0.3, 0.012),
      want: 5.125527,
    },
    {
      what: 'Manning loss by the printed shortcut 10.29n²Q²L/D^(16/3)',
      source: 'penstock 4.5, computed for the project; the shortcut rounds by 0.035 %',
      got: () => manningLoss(0.15, 250, 0.3, 0.012),
      want: 5.123739,
      within: 4e-4,
    },
    {
      what: 'Manning loss of 3 m³/s in 173 m of 1.5 m pipe',
      source: 'ESHA-guide style example, shortcut form, computed for the project',
      got: () => manningLoss(3, 173, 1.5, 0.012),
      want: 0.265407,
      within: 4e-4,
    },
    {
      what: 'Manning velocity',
      source: 'documentation of a public fluids library, read in it',
      got: () => manningVelocity(0.2859, 0.005236, 0.03),
      want: 1.0467781958,
      within: 1e-9,
    },
    {
      what: 'Manning velocity in a full pipe whose slope is its loss',
      source: 'reverse of penstock 4.5 exact form',
      got: () => manningVelocity(0.075, 5.125527 / 250, 0.012),
      want: 2.122066,
    },
  ])
})
