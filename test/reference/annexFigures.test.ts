import { describe, expect, it } from 'vitest'
import { planFigures } from '../../server/derive/plan.ts'
import { createPropagation, type LeafUncertainty } from '../../server/derive/propagation.ts'
import type { Quantity } from '../../server/derive/quantity.ts'
import { lineOf } from '../../server/trials/capture/steadiness.ts'
import { plantOf } from '../support/plants.ts'
import { checkEach } from './check.ts'

// The worked examples of JCGM 100 and 101 through what the server runs: plan, compiled formulas, propagation.

type Leaf = Partial<LeafUncertainty> & { value: number; calibration?: string }

/** A plant that has nothing but these inputs, all plain numbers, and figures computed from them by formula. */
function bench(inputs: Record<string, Leaf>, formulas: Record<string, string>) {
  const names = Object.keys(inputs)
  const known = [...names, ...Object.keys(formulas)]
  const quantities = Object.entries(formulas).map(([id, formula]): Quantity => {
    const used = known.filter((name) => new RegExp(`\\b${name}\\b`).test(formula))
    const way = { formula, inputs: Object.fromEntries(used.map((name) => [name, name])), source: 'test' }
    return { id, name: id, symbol: id, unit: '1', view: '1', group: 'efficiency', ways: [way] }
  })
  const instruments = names.map((id) => {
    const { calibration } = inputs[id]!
    const accuracy = calibration === undefined ? '' : `, accuracy: { calibration: ${calibration} }`
    return `  - { id: ${id}, topic: annex/${id}, unit: "1"${accuracy} }`
  })
  const plan = planFigures(plantOf(HEAD + instruments.join('\n')), quantities)
  const column = Float64Array.from(plan.column)
  const propagation = createPropagation(plan, column)
  const nothing = { limits: 0, isRectangular: true, resolution: 0, scatter: 0, freedom: 1 }
  for (const node of plan.nodes) {
    if (node.kind === 'measured') {
      const { value, calibration: _, ...uncertainty } = inputs[node.instrument.id]!
      column[node.index] = value
      propagation.setLeaf(node.leaf, { ...nothing, ...uncertainty })
    } else if (node.kind === 'derived') {
      column[node.index] = node.expression.evaluate(column)
      propagation.propagate(node)
    }
  }
  const at = (id: string) => plan.indexOf.get(id)!
  return {
    shares: (id: string) => propagation.shares(at(id)),
    value: (id: string) => column[at(id)]!,
    standard: (id: string) => propagation.standard(at(id)),
    expanded: (id: string) => propagation.expanded(at(id)),
  }
}

const HEAD = `
id: annex
name: Worked examples
use: rig
site: { timeZone: Etc/UTC }
instruments:
`

/** Standard uncertainty of limits ± a. */
const within = (a: number) => ({ limits: a / Math.sqrt(3) })

describe('JCGM 100 H.1, end gauge', () => {
  // Lengths in nm. The example gives its uncertainties of expansion and temperature finite degrees of freedom too.
  const flat = (a: number, freedom: number) => ({ scatter: a / Math.sqrt(3), freedom })
  const gauge = bench(
    {
      l_s: { value: 50_000_623, scatter: 25, freedom: 18 },
      d: { value: 215, scatter: Math.hypot(5.8, 3.9, 6.7), freedom: 25.6 },
      alpha_s: { value: 11.5e-6, ...within(2e-6) },
      // mean of the bath and its swing, H.1.3.4
      theta: { value: -0.1, limits: 0.41 },
      delta_alpha: { value: 0, ...flat(1e-6, 50) },
      delta_theta: { value: 0, ...flat(0.05, 2) },
    },
    { l: 'l_s + d - l_s * (delta_alpha * theta + alpha_s * delta_theta)' },
  )
  const H1 = 'JCGM 100 H.1, inputs read at second hand or from memory'
  checkEach([
    {
      what: 'length in nm',
      source: `${H1}; 50.000838 mm`,
      got: () => gauge.value('l'),
      want: 50_000_838,
      plusMinus: 0.01,
    },
    {
      what: 'u in nm',
      source: `${H1}; printed u² = 1002 nm²`,
      got: () => gauge.standard('l'),
      want: Math.sqrt(1002),
      within: 1e-3,
    },
    {
      what: 'U95 in nm, ν_eff 16.7',
      source: 'JCGM 100 H.1.6, G.4.1 (interpolate) and table G.2, t(16) 2.1199, t(17) 2.1098',
      got: () => gauge.expanded('l'),
      want: (2.1199 - 0.7 * (2.1199 - 2.1098)) * Math.sqrt(1002),
      within: 5e-4,
    },
  ])
})

describe('JCGM 100 H.2, resistance, reactance and impedance measured together', () => {
  const samples = {
    V: [5.007, 4.994, 5.005, 4.99, 4.999],
    I: [19.663, 19.639, 19.64, 19.685, 19.678].map((milliampere) => milliampere / 1000),
    phi: [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  }
  const of = (list: number[]) => {
    const { mean, deviation } = lineOf(list)
    return { mean, u: deviation / Math.sqrt(list.length) }
  }
  const [V, I, phi] = [of(samples.V), of(samples.I), of(samples.phi)]
  interface Inputs {
    u: [V: number, I: number, phi: number]
    /** Correlations of V and I, V and φ, I and φ. */
    r: [number, number, number]
  }
  // Inputs are correlated in the server by what they share. Three independent sources of u = 1, mixed by the Cholesky
  // factor of the correlations, make V, I and φ correlated as in the example.
  const together = ({ u: [uV, uI, uPhi], r: [rVI, rVp, rIp] }: Inputs) => {
    const b = Math.sqrt(1 - rVI ** 2)
    const c = (rIp - rVI * rVp) / b
    const e = Math.sqrt(1 - rVp ** 2 - c ** 2)
    const unit = { value: 0, limits: 1, isRectangular: false }
    return bench(
      { x: unit, y: unit, z: unit },
      {
        V: `${V.mean} + ${uV} * x`,
        I: `${I.mean} + ${uI} * (${rVI} * x + ${b} * y)`,
        phi: `${phi.mean} + ${uPhi} * (${rVp} * x + ${c} * y + ${e} * z)`,
        R: 'V / I * cos(phi)',
        X: 'V / I * sin(phi)',
        Z: 'V / I',
        R_plus_X: 'R + X',
        R_plus_Z: 'R + Z',
        X_plus_Z: 'X + Z',
      },
    )
  }
  const meter = together({ u: [V.u, I.u, phi.u], r: [-0.355311, 0.857624, -0.645111] })
  const rounded = together({ u: [0.0032, 0.0095e-3, 0.00075], r: [-0.36, 0.86, -0.65] })
  /** From u²(a + b) = u²(a) + u²(b) + 2·r·u(a)·u(b). */
  const between = (first: string, second: string) => {
    const [p, q] = [meter.standard(first), meter.standard(second)]
    return (meter.standard(`${first}_plus_${second}`) ** 2 - p * p - q * q) / (2 * p * q)
  }
  const H2 = 'JCGM 100 H.2; raw data from memory, means and results read, computed in full precision'
  checkEach([
    { what: 'mean voltage', source: H2, got: () => V.mean, want: 4.999, within: 1e-9 },
    { what: 'mean current', source: H2, got: () => I.mean, want: 19.661e-3, within: 1e-9 },
    { what: 'mean phase', source: H2, got: () => phi.mean, want: 1.04446, within: 1e-9 },
    { what: 'u of voltage', source: H2, got: () => V.u, want: 0.0032094, plusMinus: 5e-8 },
    { what: 'u of current', source: H2, got: () => I.u, want: 9.471e-6, within: 1e-5 },
    { what: 'u of phase', source: H2, got: () => phi.u, want: 7.52064e-4, within: 1e-5 },
    {
      what: 'u of R from the ROUNDED inputs, 1.5 % off,',
      source: `${H2}; a warning, not a result`,
      got: () => rounded.standard('R'),
      want: 0.069979,
      within: 1e-4,
    },
    { what: 'R', source: H2, got: () => meter.value('R'), want: 127.73217, within: 1e-7 },
    { what: 'X', source: H2, got: () => meter.value('X'), want: 219.84651, within: 1e-7 },
    { what: 'Z', source: H2, got: () => meter.value('Z'), want: 254.2597, within: 1e-7 },
    { what: 'u of R', source: H2, got: () => meter.standard('R'), want: 0.0710714, within: 1e-4 },
    { what: 'u of X', source: H2, got: () => meter.standard('X'), want: 0.2955817, within: 1e-4 },
    { what: 'u of Z', source: H2, got: () => meter.standard('Z'), want: 0.2363361, within: 1e-4 },
    { what: 'r of R and X', source: H2, got: () => between('R', 'X'), want: -0.58843, within: 1e-3 },
    { what: 'r of R and Z', source: H2, got: () => between('R', 'Z'), want: -0.485259, within: 1e-3 },
    { what: 'r of X and Z', source: H2, got: () => between('X', 'Z'), want: 0.992512, within: 1e-3 },
  ])
})

describe('JCGM 100 G.4.1 and JCGM 101 clause 9', () => {
  const product = bench(
    {
      a: { value: 3, scatter: 3 * 0.0025, freedom: 9 },
      b: { value: 7, scatter: 7 * 0.0057, freedom: 4 },
      c: { value: 11, scatter: 11 * 0.0082, freedom: 14 },
    },
    { y: 'a * b * c' },
  )
  const four = (shape: Partial<LeafUncertainty>, last: Partial<LeafUncertainty> = shape) =>
    bench(
      {
        a: { value: 0, ...shape },
        b: { value: 0, ...shape },
        c: { value: 0, ...shape },
        d: { value: 0, ...last },
      },
      { y: 'a + b + c + d' },
    )
  const normal = four({ limits: 1, isRectangular: false })
  const flat = four({ limits: 1 })
  const oneLarge = four({ limits: 1 }, { limits: 10 })
  const mass = bench(
    {
      m_R: { value: 100_000, limits: 0.05, isRectangular: false },
      dm: { value: 1.234, limits: 0.02, isRectangular: false },
      a: { value: 1.2, ...within(0.1) },
      w: { value: 8000, ...within(1000) },
      r: { value: 8000, ...within(50) },
    },
    { y: '(m_R + dm) * (1 + (a - 1.2) * (1 / w - 1 / r)) - 100000' },
  )
  checkEach([
    {
      what: 'relative u of G.4.1 in %',
      source: 'JCGM 100 G.4.1, recomputed 1.029466',
      got: () => (100 * product.standard('y')) / 231,
      want: 1.029466,
      within: 1e-4,
    },
    {
      what: 'relative U of G.4.1 in %, ν_eff 18.9987',
      source: 'JCGM 100 G.4.1 and table G.2 t(19) 2.0930; printed 2.2',
      got: () => (100 * product.expanded('y')) / 231,
      want: 1.029466 * 2.093,
      within: 1e-4,
    },
    {
      what: 'U of four N(0, 1)',
      source: 'JCGM 101 9.2.2, 3.92, from memory',
      got: () => normal.expanded('y'),
      want: 3.92,
      within: 1e-3,
    },
    {
      what: 'U of four R(u = 1)',
      source: 'JCGM 101 9.2.3, 3.88, from memory',
      got: () => flat.expanded('y'),
      want: 3.88,
      within: 5e-3,
    },
    {
      what: 'U of three R(u = 1) and one R(u = 10)',
      source: 'JCGM 101 9.2.4, 17.0, from memory',
      got: () => oneLarge.expanded('y'),
      want: 17,
      within: 5e-3,
    },
    {
      what: 'u of the mass calibration in mg, first order,',
      source: 'JCGM 101 9.3, 0.0539 by the law of propagation, from memory; √(0.05² + 0.02²)',
      got: () => mass.standard('y'),
      want: 0.0539,
      within: 1e-3,
    },
  ])

  it('shows what the first order leaves out: 0.054 mg where drawing gives 0.075 mg, for all inputs of the buoyancy stand where their effect is 0 (JCGM 101 9.3)', () => {
    expect(mass.standard('y') / 0.0754).toBeCloseTo(0.71, 2)
  })
})

describe('JCGM 100 5.2.2, ten resistors of 1000 Ω calibrated against one standard', () => {
  const ids = Array.from({ length: 10 }, (_, i) => `r${i}`)
  const formulas = { total: ids.join(' + '), ratio: 'r0 / r1', spread: 'max(r0, r1, r2) - min(r0, r1, r2)' }
  const resistors = (more: Partial<Leaf>) =>
    bench(
      Object.fromEntries(ids.map((id) => [id, { value: 1000, limits: 0.1, isRectangular: false, ...more }])),
      formulas,
    )
  const together = resistors({ calibration: 'standard' })
  const apart = resistors({})
  checkEach([
    {
      what: 'u of their sum in Ω',
      source: 'JCGM 100 5.2.2 note 1, from memory',
      got: () => together.standard('total'),
      want: 1,
    },
    {
      what: 'u of the sum in Ω, each with its own standard,',
      source: 'JCGM 100 5.2.2 note 1, 0.32, from memory',
      got: () => apart.standard('total'),
      want: Math.sqrt(10) * 0.1,
    },
  ])

  it('leave nothing of their common error in a ratio, nor over a corner of a formula', () => {
    expect(together.standard('ratio')).toBeLessThan(1e-9)
    expect(apart.standard('ratio')).toBeCloseTo(Math.SQRT2 * 1e-4, 8)
    expect(together.standard('spread')).toBeLessThan(1e-9)
    expect(apart.standard('spread')).toBeGreaterThan(0.1)
  })

  it('share the variance evenly, and keep their own scatter to themselves', () => {
    expect(together.shares('total').map((share) => Number(share.toFixed(9)))).toEqual(ids.map(() => 0.1))
    const noisy = resistors({ calibration: 'standard', scatter: 0.1 })
    expect(noisy.standard('total')).toBeCloseTo(Math.sqrt(1 + 10 * 0.01), 9)
    expect(noisy.standard('ratio')).toBeCloseTo(Math.SQRT2 * 1e-4, 8)
  })

  it('are one rectangle when the standard has limits of error (JCGM 101 6.4.2)', () => {
    const flat = resistors({ calibration: 'standard', isRectangular: true })
    expect(flat.expanded('total')).toBeCloseTo(0.95 * Math.sqrt(3), 3)
  })
})
