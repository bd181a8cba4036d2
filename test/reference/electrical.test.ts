import { describe, expect, it } from 'vitest'
import {
  directPower,
  generatorFrequency,
  negativeSequenceRatio,
  phaseUnbalance,
  powerFactor,
  reactivePower,
  singlePhasePower,
  slip,
  synchronousSpeed,
  threePhaseApparent,
  threePhasePower,
} from '../../server/physics/index.ts'
import { checkEach, rpm } from './check.ts'

const THREE_PHASE = 'worked number 8.1, computed for the project'
const EXTERNAL = 'external characteristic 8.3, exact'

describe('power', () => {
  checkEach([
    {
      what: 'three-phase active power at 400 V, 10 A, 0.85',
      source: THREE_PHASE,
      got: () => threePhasePower(400, 10, 0.85),
      want: 5888.97275,
    },
    {
      what: 'three-phase active power at 400 V, 151 A, 0.86',
      source: 'Skelderwath data sheet, fictional site, 90.0 kW',
      got: () => threePhasePower(400, 151, 0.86),
      want: 90e3,
      within: 1e-3,
    },
    {
      what: 'three-phase apparent power at 400 V, 10 A',
      source: THREE_PHASE,
      got: () => threePhaseApparent(400, 10),
      want: 6928.20323,
    },
    {
      what: 'three-phase apparent power at 400 V, 24.1 A and pf 0.9 as active power',
      source: 'Ostrelby data sheet, fictional site, 15.0 kW',
      got: () => 0.9 * threePhaseApparent(400, 24.1),
      want: 15e3,
      within: 3e-3,
    },
    {
      what: 'reactive power',
      source: THREE_PHASE,
      got: () => reactivePower(6928.20323, 5888.97275),
      want: 3649.65752,
    },
    {
      what: 'reactive power of 90 kW at pf 0.86',
      source: 'Skelderwath data sheet, fictional site, 53.4 kvar',
      got: () => reactivePower(90e3 / 0.86, 90e3),
      want: 53.4e3,
      within: 1e-3,
    },
    { what: 'power factor', source: THREE_PHASE, got: () => powerFactor(5888.97275, 6928.20323), want: 0.85 },
    {
      what: 'power factor after 35 kvar of compensation',
      source: 'Skelderwath data sheet, fictional site, 0.98',
      got: () => powerFactor(90, Math.hypot(90, 53.4 - 35)),
      want: 0.98,
      plusMinus: 0.005,
    },
    {
      what: 'single-phase power at 230 V, 8.7 A, 0.92',
      source: THREE_PHASE,
      got: () => singlePhasePower(230, 8.7, 0.92),
      want: 1840.92,
    },
    {
      what: 'three phases of 24.7 V and 6.92 A',
      source: 'Quennerby data sheet, fictional rig, 513 W',
      got: () => 3 * singlePhasePower(24.7, 6.92, 1),
      want: 513,
      within: 1e-3,
    },
    { what: 'direct power at 52.5 V, 5 A', source: EXTERNAL, got: () => directPower(52.5, 5), want: 262.5 },
    {
      what: 'direct power at 26.4 V, 18.1 A',
      source: 'Quennerby data sheet, fictional rig, 477 W',
      got: () => directPower(26.4, 18.1),
      want: 477,
      within: 3e-3,
    },
  ])
  it('is contradictory when active exceeds apparent power, and has no factor without load', () => {
    expect([reactivePower(1, 2), powerFactor(0, 0)]).toEqual([NaN, NaN])
  })
})

describe('frequency and slip', () => {
  const source = 'worked number 8.2, exact'
  checkEach([
    ...(
      [
        [1500, 2, 50],
        [750, 4, 50],
        [1000, 3, 50],
        [1800, 2, 60],
      ] as const
    ).flatMap(([n, pairs, hertz]) => [
      {
        what: `frequency at ${n} min⁻¹ with ${pairs} pole pairs`,
        source,
        got: () => generatorFrequency(rpm(n), pairs),
        want: hertz,
        within: 1e-12,
      },
      {
        what: `synchronous speed at ${hertz} Hz with ${pairs} pole pairs, in min⁻¹`,
        source,
        got: () => synchronousSpeed(hertz, pairs) / rpm(1),
        want: n,
        within: 1e-12,
      },
    ]),
    {
      what: 'slip at 1012 of 1000 min⁻¹',
      source: 'Skelderwath data sheet, fictional site, −1.2 %',
      got: () => slip(rpm(1000), rpm(1012)),
      want: -0.012,
      within: 1e-12,
    },
    { what: 'slip at standstill', source: 'definition', got: () => slip(rpm(1000), 0), want: 1 },
  ])
})

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
    return [between(0, 1), between(1, 2), between(2, 0)] as const
  }
  checkEach([
    ...[0.01, 0.02, 0.1].map((share) => ({
      what: `negative over positive sequence of a system built with ${share}`,
      source: 'Fortescue, phasors built in the test',
      got: () => negativeSequenceRatio(...lines(share)),
      want: share,
      within: 1e-9,
    })),
    {
      what: 'negative over positive sequence of three equal voltages',
      source: 'definition',
      got: () => negativeSequenceRatio(401.3, 401.3, 401.3),
      want: 0,
      plusMinus: 1e-12,
    },
    {
      what: 'phase unbalance of 10, 10, 13',
      source: 'by hand: mean 11, worst 2',
      got: () => phaseUnbalance(10, 10, 13),
      want: 2 / 11,
    },
    {
      what: 'phase unbalance of 460, 467, 450 V',
      source: 'NEMA MG-1 classic example, from memory: 9/459 = 1.96 %',
      got: () => phaseUnbalance(460, 467, 450),
      want: 9 / 459,
      within: 1e-9,
    },
  ])
  it('has no value for voltages that form no triangle', () => {
    expect(negativeSequenceRatio(400, 100, 100)).toBeNaN()
  })
})
