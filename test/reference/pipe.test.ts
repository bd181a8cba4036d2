import { describe, expect, it } from 'vitest'
import { colebrookFriction, frictionFactor, laminarFriction } from '../../server/physics/friction.ts'
import { boreArea, darcyLoss, meanVelocity, minorLoss, reynoldsNumber } from '../../server/physics/pipe.ts'
import { figureOf } from '../support/figureBench.ts'
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
        what: `the default at ε/D ${roughness}, Re ${re}, against the explicit formula of Swamee and Jain,`,
        source,
        got: () => frictionFactor(re, roughness),
        want: swameeJain,
        within: 0.014,
      },
      {
        what: `the default at ε/D ${roughness}, Re ${re}, against the explicit formula of Haaland,`,
        source,
        got: () => frictionFactor(re, roughness),
        want: haaland,
        within: 0.014,
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
    {
      what: 'pressure drop of 60 m of that pipe, 999 kg/m³,',
      source: CENGEL,
      got: () => 999 * 9.81 * darcyLoss(frictionFactor(RE83(), 4e-5), 60, 0.05, V83(), 9.81),
      want: 96204.33,
      within: 1e-4,
    },
    {
      what: 'power to pump 6 L/s through it',
      source: CENGEL,
      got: () =>
        figureOf(
          'hydraulicPower',
          { inletPressure: '96204.33 Pa', discharge: '6 L/s' },
          { site: 'gravity: 9.81 m/s2, waterDensity: 999 kg/m3' },
        ),
      want: 577.226,
      within: 1e-4,
    },
    { what: 'velocity of 150 L/s in 300 mm', source: PENSTOCK, got: PENSTOCK_V, want: 2.122066 },
    { what: 'Reynolds number of 150 L/s in 300 mm', source: PENSTOCK, got: PENSTOCK_RE, want: 487345.8 },
    {
      what: 'Darcy loss of 250 m with Colebrook',
      source: PENSTOCK,
      got: () => darcyLoss(colebrookFriction(PENSTOCK_RE(), 5e-4), 250, 0.3, PENSTOCK_V(), 9.81),
      want: 3.382595,
    },
    ...(
      [
        ['Swamee–Jain', 3.404458],
        ['Haaland', 3.365856],
      ] as const
    ).map(([name, want]) => ({
      what: `Darcy loss of 250 m against that with ${name}`,
      source: `${PENSTOCK}; within 1.4 %`,
      got: () => darcyLoss(frictionFactor(PENSTOCK_RE(), 5e-4), 250, 0.3, PENSTOCK_V(), 9.81),
      want,
      within: 0.014,
    })),
    {
      what: 'Darcy loss of 250 m against that of Hazen and Williams with C 130',
      source: 'penstock 4.4, constant from memory, computed for the project; both agree to 1 % here',
      got: () => darcyLoss(frictionFactor(PENSTOCK_RE(), 5e-4), 250, 0.3, PENSTOCK_V(), 9.81),
      want: 3.402757,
      within: 0.01,
    },
    {
      what: 'modelled loss of that penstock with its bends, water of 10 °C,',
      source: PENSTOCK,
      got: () =>
        figureOf(
          'modelledHeadLoss',
          { discharge: '0.15 m3/s' },
          {
            site: 'gravity: 9.81 m/s2, waterTemperature: 10 Cel',
            penstock: '{ bore: 0.30 m, length: 250 m, roughness: 0.15 mm, minorLoss: 1.1 }',
          },
        ),
      want: 3.382595 + 0.252471,
      within: 1e-5,
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
