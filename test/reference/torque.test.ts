import { describe, expect, it } from 'vitest'
import { laws } from '../../server/trials/fit/models/index.ts'
import { runnerTorque } from '../../simulator/plants/runner.ts'
import { figureOf } from '../support/figureBench.ts'
import { checkEach, degrees, rpm } from './check.ts'
import { GORLA, jet, KUMAR, read } from './textbook.ts'

const RIG = 'Quennerby data sheet, fictional rig, computed by an independent script'

describe('torque over speed', () => {
  const law = laws.get('runawayLaw')!.prepare([])
  const torque = (parameters: number[], speed: number) =>
    'predict' in law ? law.predict(parameters, { x: speed }) : Number.NaN
  const simulated = (power: number, speed: number, ratio = 1.842) =>
    runnerTorque(
      { head: 24, speed: rpm(1500), runawayRatio: ratio, exponent: 1.5 },
      { hydraulicPower: power, netHead: 24, efficiency: 1 },
      speed,
    )
  const DESIGN_POWER = 3.775 * rpm(1500)
  checkEach([
    {
      what: 'stall torque of the rig',
      source: `${RIG}, 6.29 N·m`,
      got: () => simulated(DESIGN_POWER, 0),
      want: 6.29,
      plusMinus: 0.005,
    },
    {
      what: 'stall over best torque',
      source: `${RIG}, 1.667`,
      got: () => simulated(DESIGN_POWER, 0) / simulated(DESIGN_POWER, rpm(1500)),
      want: 1.667,
      plusMinus: 5e-4,
    },
    {
      what: 'torque of the rig at its runaway speed of 2763 min⁻¹',
      source: `${RIG}, 2763 min⁻¹ is 1.842 times the best speed`,
      got: () => simulated(DESIGN_POWER, rpm(2763)),
      want: 0,
      plusMinus: 1e-9,
    },
    ...([1500, 1800] as const).flatMap((speed) => {
      const want = speed === 1500 ? 3.775 : 2.98
      return [
        {
          what: `simulated torque of the rig at ${speed} min⁻¹`,
          source: `${RIG}, ${want} N·m`,
          got: () => simulated(DESIGN_POWER, rpm(speed)),
          want,
          plusMinus: 0.005,
        },
        {
          what: `torque of the rig at ${speed} min⁻¹ by the curve of the trials`,
          source: `${RIG}, ${want} N·m`,
          got: () => torque([6.29, rpm(2763), 1.5], rpm(speed)),
          want,
          plusMinus: 0.005,
        },
      ]
    }),
    {
      what: 'torque at half of runaway on the straight line',
      source: 'theory: half of the torque at standstill',
      got: () => torque([2, 200, 1], 100),
      want: 1,
    },
    ...(
      [
        [1.5, 1.842, 5e-4],
        [1, 2, 1e-3],
      ] as const
    ).map(([exponent, ratio, plusMinus]) => ({
      what: `runaway over the speed of most power with exponent ${exponent}`,
      source: exponent === 1 ? 'theory' : `${RIG}, 1.842`,
      got: () => 1 / bestOf((speed) => speed * torque([1, 1, exponent], speed)),
      want: ratio,
      plusMinus,
    })),
  ])
  it('has most power inside the published Pelton runaway range 1.8–1.9 (ESHA 2004, from memory)', () => {
    const ratio = 1 / bestOf((speed) => speed * torque([1, 1, 1.5], speed))
    expect(ratio).toBeGreaterThan(1.8)
    expect(ratio).toBeLessThan(1.9)
  })
})

/** Where a curve over 0 … 1 is highest. */
function bestOf(curve: (x: number) => number): number {
  const places = Array.from({ length: 10_001 }, (_, i) => i / 10_000)
  return places.reduce((best, x) => (curve(x) > curve(best) ? x : best), 0)
}

describe('jets on buckets, the straight line of the torque law', () => {
  const line = laws.get('runawayLaw')!.prepare([])
  /** Force of a kilogram a second of jet on buckets that turn it by 180° − β with k of its relative speed left [N]. */
  const force = (jetSpeed: number, bucket: number, k: number, beta: number) => {
    const standstill = jetSpeed * (1 + k * Math.cos(degrees(beta)))
    return 'predict' in line ? line.predict([standstill, jetSpeed, 1], { x: bucket }) : Number.NaN
  }
  const power = (...[jetSpeed, bucket, k, beta]: [number, number, number, number]) =>
    bucket * force(jetSpeed, bucket, k, beta)
  checkEach(
    (
      [
        [0.3, 0.78512],
        [0.4, 0.89728],
        [0.46, 0.928685],
        [0.5, 0.934667],
        [0.6, 0.89728],
        [0.7, 0.78512],
      ] as const
    ).map(([x, want]) => ({
      what: `efficiency at speed ratio ${x} with k 0.9 and β 15°`,
      source: 'table 5.1, computed for the project',
      got: () => 2 * power(1, x, 0.9, 15),
      want,
    })),
  )
  checkEach(
    [
      ...read(`${KUMAR} Ex. 4.3`, [
        ['bucket power at 30 m', () => 9.03798 * power(jet(0.98, 30), jet(0.45, 30), 0.98, 15), 2469.781],
      ]),
      ...read(`${KUMAR} Ex. 4.6`, [
        [
          'force on the buckets at 510 m',
          () => 3079.715 * force(jet(0.98, 510), jet(0.46, 510), 0.85, 15),
          291720.7,
        ],
        [
          'power of the buckets at 510 m',
          () => 3079.715 * power(jet(0.98, 510), jet(0.46, 510), 0.85, 15),
          13423.31e3,
        ],
        [
          'shaft power with 3 % lost',
          () => 0.97 * 3079.715 * power(jet(0.98, 510), jet(0.46, 510), 0.85, 15),
          13020.61e3,
        ],
      ]),
      ...read(`${GORLA} Ex. 3.1`, [
        ['work of a kilogram at 220 m', () => power(jet(1, 220), 14, 1, 20), 1403.931],
        ['power of 145 L/s', () => 145 * power(jet(1, 220), 14, 1, 20), 203570.0],
        ['whirl that is left', () => force(jet(1, 220), 14, 1, 20) - jet(1, 220), 34.58146],
      ]),
      ...read(`${GORLA} Ex. 3.3`, [
        ['power at 45 m and 0.82 m³/s', () => 820 * power(jet(0.98, 45), 14, 1, 20), 336673.0],
      ]),
      ...read(`${GORLA} Ex. 3.7`, [
        ['work per mass at 60 m', () => power(jet(0.98, 60), 12, 1, 15), 510.1375],
      ]),
      ...read('TBC 2159 Ex. 11.2', [
        ['power of 1 m³/s at 46 m', () => 1000 * power(jet(1, 46), 15, 1, 15), 443571],
      ]),
    ].map((check) => ({ ...check, within: 1e-6 })),
  )
  it('peaks where the buckets run at half the jet velocity (theory)', () => {
    expect(bestOf((x) => power(1, x, 0.9, 15))).toBeCloseTo(0.5, 4)
  })
})

describe('mechanical time constant', () => {
  const timeConstant = (inertia: number, power: number) =>
    figureOf(
      'mechanicalTimeConstant',
      { speed: '1500 /min' },
      {
        generator: `{ kind: synchronous, polePairs: 2, inertia: ${inertia} kg.m2, ratedSpeed: 1500 /min }`,
        turbine: `{ kind: pelton, ratedShaftPower: ${power} W }`,
      },
    )
  checkEach([
    {
      what: 'mechanical time constant of 1.2 kg·m² on 16.67 kW',
      source: 'Ostrelby data sheet, fictional site, 1.78 s',
      got: () => timeConstant(1.2, 16667),
      want: 1.78,
      plusMinus: 0.005,
    },
    {
      what: 'a tenth of that of the rig, its time from a rejection to 110 %,',
      source: `${RIG}: 0.088 s, within the torque law's fall of 5 %`,
      got: () => 0.1 * timeConstant(0.02, 593),
      want: 0.088,
      within: 0.08,
    },
  ])
})
