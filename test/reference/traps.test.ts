import { describe, expect, it } from 'vitest'
import { closurePressure } from '../../server/physics/waterHammer.ts'
import { rectangularWeir, vNotch } from '../../server/physics/weir.ts'
import { effectiveDegreesOfFreedom } from '../../server/statistics/uncertainty.ts'
import { figureOf } from '../support/figureBench.ts'
import { degrees } from './check.ts'

const G = 9.80665

/** Errors found in print or in public code while the reference values were compiled. Each test keeps one out. */
describe('trap', () => {
  it('T1: a V-notch keeps the factor 8/15·√2 that a public library drops, 32 % too high (computed for the project)', () => {
    expect(vNotch(0.6, degrees(45), G)).toBeCloseTo(0.159274, 6)
    expect(vNotch(0.6, degrees(45), G) / 0.210717).toBeCloseTo(1 / 1.323, 3)
    // By hand for 90°: 8/15 · 0.578 · 4.42869 · 0.20085^2.5 = 0.0246821.
    expect(Math.abs(vNotch(0.2, degrees(90), G) / 0.0246821 - 1)).toBeLessThan(3e-4)
  })

  it('T2: a contracted weir adds 1 mm to the head, not 0.1 mm as a public library does (computed for the project)', () => {
    const ours = rectangularWeir(0.2, 0.5, 1, 5, G)
    expect(ours).toBeCloseTo(0.156893, 6)
    expect(0.155459 / ours).toBeCloseTo(0.991, 3)
  })

  it('T8: a closure within 2L/a is bounded by Joukowsky, 3.350 MPa, not by ρLv/T, 2.264 MPa (Choudhary Ex. 7.19)', () => {
    expect(closurePressure(1000, 1480, 500, 2.263537, 0.5)).toBeCloseTo(3.350035e6, 0)
    // the critical time, 0.6757 s: twice as long halves the bound
    expect(closurePressure(1000, 1480, 500, 2.263537, 2 * 0.675676) / 3.350035e6).toBeCloseTo(0.5, 6)
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

  it('T11: 1000 kg/m³ and 9.81 are 0.1 % off at 45° and sea level, g alone 0.2 % off at 27.7° and 1400 m (computed for the project)', () => {
    const book = 1000 * 9.81
    const at = (latitude: number, altitude: number) => `latitude: ${latitude} deg, altitude: ${altitude} m`
    const real =
      figureOf('waterDensity', { waterTemperature: '15 Cel' }) *
      figureOf('gravity', { headwaterLevel: '1 m' }, { site: at(45, 0) })
    expect(book / real - 1).toBeGreaterThan(0.001)
    expect(book / real - 1).toBeLessThan(0.0015)
    const high = figureOf('gravity', { headwaterLevel: '1 m' }, { site: at(27.7, 1400) }) / 9.81 - 1
    expect(high).toBeCloseTo(-0.002, 3)
  })
})
