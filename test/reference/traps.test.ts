import { describe, expect, it } from 'vitest'
import {
  bucketEfficiency,
  bucketFactor,
  bucketForce,
  bucketPower,
  closurePressure,
  criticalTime,
  crossFlowEfficiency,
  francisEfficiency,
  gravityWgs84,
  integrateTrapezoid,
  jetVelocity,
  kaplanEfficiency,
  loadFactor,
  orificeRadiusTaps,
  propellerEfficiency,
  rectangularWeir,
  rigidColumnPressure,
  similarDischarge,
  vNotch,
  vNotch90,
  waterDensity,
} from '../../server/physics/index.ts'
import { effectiveDegreesOfFreedom } from '../../server/statistics/index.ts'
import { celsius, degrees } from './check.ts'

const G = 9.80665

/** Errors found in print or in public code while the reference values were compiled. Each test keeps one out. */
describe('trap', () => {
  it('T1: a V-notch keeps the factor 8/15·√2 that a public library drops, 32 % too high (computed for the project)', () => {
    expect(vNotch(0.6, degrees(45), G)).toBeCloseTo(0.159274, 6)
    expect(vNotch(0.6, degrees(45), G) / 0.210717).toBeCloseTo(1 / 1.323, 3)
    // By hand for 90°: 8/15 · 0.578 · 4.42869 · 0.20085^2.5 = 0.0246821.
    expect(vNotch90(0.2, G)).toBeCloseTo(0.0246821, 7)
  })

  it('T2: a contracted weir adds 1 mm to the head, not 0.1 mm as a public library does (computed for the project)', () => {
    const ours = rectangularWeir(0.2, 0.5, 1, 5, G)
    expect(ours).toBeCloseTo(0.156893, 6)
    expect(0.155459 / ours).toBeCloseTo(0.991, 3)
  })

  it('T3: an orifice in water has no gas expansibility: 7.929917 kg/s, not 7.702338 (computed for the project)', () => {
    expect(999.1 * orificeRadiusTaps(17e3, 0.05, 0.07366, 999.1, 1.1e-3)).toBeCloseTo(7.929917, 5)
  })

  it('T4: a Francis turbine reaches exactly e_r at design flow, a cross-flow exactly 0.79 (transcriptions read)', () => {
    const nq = 84.852814
    const peak = 0.911128
    expect(francisEfficiency(2, 2, 50, 4.5)).toBeCloseTo((1 - 0.0072 * nq ** 0.4) * peak, 6)
    expect(crossFlowEfficiency(3, 3)).toBeCloseTo(0.79, 12)
    // Dividing by Q instead of Qp would give 0.79 − 0.15 − 1.37 here.
    expect(crossFlowEfficiency(0.5, 1)).toBeCloseTo(0.714916, 6)
  })

  it('T5: a part-load expression below zero means no power, not a negative efficiency (computed for the project)', () => {
    expect(kaplanEfficiency(1, 10, 5, 4.5)).toBe(0)
    expect(propellerEfficiency(1, 10, 5, 4.5)).toBe(0)
    expect(kaplanEfficiency(0, 10, 5, 4.5)).toBe(0)
  })

  it('T6: recomputed figures count where printed ones are wrong (Shiv Kumar Ex. 4.6 and 7.12, read with flags)', () => {
    const v = jetVelocity(0.98, 510, 9.81)
    const u = jetVelocity(0.46, 510, 9.81)
    const massFlow = 1000 * v * (Math.PI / 4) * 0.2 ** 2
    const power = bucketPower(massFlow, v, u, bucketFactor(0.85, degrees(15)))
    expect(bucketForce(massFlow, v, u, bucketFactor(0.85, degrees(15))) / 1e3).toBeCloseTo(291.7207, 2)
    expect((0.97 * power) / (9.81 * massFlow * 510)).toBeCloseTo(0.845049, 5)
    expect(similarDischarge(0.3203728, 5, 5)).toBeCloseTo(17.90938, 4)
  })

  it('T7: efficiency referred to the jet and to ρgQH differ by Cv²: 0.9668 and 0.9285 (Shiv Kumar Ex. 4.3)', () => {
    const v = jetVelocity(0.98, 30, 9.81)
    const u = jetVelocity(0.45, 30, 9.81)
    const toJet = bucketEfficiency(u / v, bucketFactor(0.98, degrees(15)))
    const toHead = bucketPower(1, v, u, bucketFactor(0.98, degrees(15))) / (9.81 * 30)
    expect(toJet).toBeCloseTo(0.966818, 6)
    expect(toHead).toBeCloseTo(0.928532, 6)
    expect(toHead / toJet).toBeCloseTo(0.98 ** 2, 12)
  })

  it('T8: a closure within 2L/a is bounded by Joukowsky, 3.350 MPa, not by ρLv/T, 2.264 MPa (Choudhary Ex. 7.19)', () => {
    expect(criticalTime(500, 1480)).toBeCloseTo(0.6757, 4)
    expect(rigidColumnPressure(1000, 500, 2.263537, 0.5)).toBeCloseTo(2.263537e6, 0)
    expect(closurePressure(1000, 1480, 500, 2.263537, 0.5)).toBeCloseTo(3.350035e6, 0)
  })

  it('T9: GUM H.1 gives ν_eff 16.7 when u_c is not rounded first, and G.4.1 counts n − 1 (JCGM 100)', () => {
    const h1 = [25, 9.7, 2.9, 16.6].map((uncertainty, i) => ({
      uncertainty,
      degreesOfFreedom: [18, 25.6, 50, 2][i]!,
    }))
    // Printed 16.7 from u_c² = 1002 nm²; the squares as printed sum to 1003.06. From u_c = 32 nm it would be 17.47.
    expect(Math.abs(effectiveDegreesOfFreedom(h1) - 16.7)).toBeLessThan(0.1)
    expect(Math.floor(effectiveDegreesOfFreedom(h1))).toBe(16)
    const g41 = (dof: number[]) =>
      [0.25, 0.57, 0.82].map((uncertainty, i) => ({ uncertainty, degreesOfFreedom: dof[i]! }))
    expect(effectiveDegreesOfFreedom(g41([9, 4, 14]))).toBeCloseTo(18.9987, 4)
    expect(effectiveDegreesOfFreedom(g41([10, 5, 15]))).toBeGreaterThan(20)
  })

  it('T10: a load factor is mean over peak, 0.5917, not the mean of 59.17 MW (TBC 2441 Ex. 1.4, printed wrongly)', () => {
    const hours = [0, 5, 5, 9, 9, 18, 18, 22, 22, 24].map((hour) => hour * 3600)
    const powers = [20, 20, 40, 40, 80, 80, 100, 100, 20, 20].map((megawatt) => megawatt * 1e6)
    const energy = integrateTrapezoid(hours, powers)
    expect(energy / 3.6e9).toBeCloseTo(1420, 9)
    expect(loadFactor(energy / 86_400, 100e6)).toBeCloseTo(0.591667, 6)
  })

  it('T11: 1000 kg/m³ and 9.81 are 0.1 % off at 45° and sea level, g alone 0.2 % off at 27.7° and 1400 m (computed for the project)', () => {
    const book = 1000 * 9.81
    const real = waterDensity(celsius(15), 101_325) * gravityWgs84(degrees(45), 0)
    expect(book / real - 1).toBeGreaterThan(0.001)
    expect(book / real - 1).toBeLessThan(0.0015)
    const high = gravityWgs84(degrees(27.7), 1400) / 9.81 - 1
    expect(high).toBeCloseTo(-0.002, 3)
  })
})
