import { describe, expect, it } from 'vitest'
import {
  bucketEfficiency,
  bucketFactor,
  bucketForce,
  bucketPower,
  bucketSpeed,
  jetVelocity,
  speedRatio,
} from '../../server/physics/index.ts'
import { checkEach, degrees, rpm } from './check.ts'

const G = 9.81
const KUMAR = (example: string) =>
  `Shiv Kumar, Fluid Systems, Ex. ${example}, read in a transcription, recomputed`
const GORLA = (example: string) =>
  `Gorla & Khan, Turbomachinery, Ex. ${example}, read in a transcription, recomputed`

describe('bucket efficiency', () => {
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
      what: `at speed ratio ${x} with k 0.9 and β 15°`,
      source: 'table 5.1, computed for the project',
      got: () => bucketEfficiency(x, bucketFactor(0.9, degrees(15))),
      want,
    })),
  )
  it('peaks where the buckets run at half the jet velocity (theory)', () => {
    const at = (x: number) => bucketEfficiency(x, 1.9)
    expect(at(0.5)).toBeGreaterThan(at(0.499))
    expect(at(0.5)).toBeGreaterThan(at(0.501))
  })
})

describe('jet and buckets', () => {
  const v43 = () => jetVelocity(0.98, 30, G)
  const u43 = () => jetVelocity(0.45, 30, G)
  const m43 = () => 1000 * v43() * (Math.PI / 4) * 0.022 ** 2
  const v46 = () => jetVelocity(0.98, 510, G)
  const u46 = () => jetVelocity(0.46, 510, G)
  const m46 = () => 1000 * v46() * (Math.PI / 4) * 0.2 ** 2
  // Ex. 4.3 deflects by 165°, so β is 15°. Ex. 4.6 states the deflection as 165° too.
  checkEach([
    { what: 'jet velocity at 30 m', source: KUMAR('4.3'), got: v43, want: 23.77586 },
    {
      what: 'bucket speed coefficient 0.45 at 30 m as a velocity',
      source: KUMAR('4.3'),
      got: u43,
      want: 10.91749,
    },
    {
      what: 'bucket power at 30 m',
      source: KUMAR('4.3'),
      got: () => bucketPower(m43(), v43(), u43(), bucketFactor(0.98, degrees(15))),
      want: 2469.781,
    },
    {
      what: 'jet efficiency at 30 m',
      source: KUMAR('4.3'),
      got: () => bucketEfficiency(speedRatio(u43(), v43()), bucketFactor(0.98, degrees(15))),
      want: 0.966818,
    },
    { what: 'jet velocity at 510 m', source: KUMAR('4.6'), got: v46, want: 98.03038 },
    {
      what: 'force on the buckets at 510 m',
      source: KUMAR('4.6'),
      got: () => bucketForce(m46(), v46(), u46(), bucketFactor(0.85, degrees(15))),
      want: 291720.7,
      within: 1e-4,
    },
    {
      what: 'power of the buckets at 510 m',
      source: KUMAR('4.6'),
      got: () => bucketPower(m46(), v46(), u46(), bucketFactor(0.85, degrees(15))),
      want: 13423.31e3,
      within: 1e-4,
    },
    {
      what: 'jet velocity at 120 m with the jet of 74 mm',
      source: KUMAR('4.15'),
      got: () => 0.2 / ((Math.PI / 4) * 0.074 ** 2),
      want: 46.50254,
    },
    {
      what: 'jet velocity at 220 m',
      source: GORLA('3.1'),
      got: () => jetVelocity(1, 220, G),
      want: 65.69932,
    },
    {
      what: 'power at 220 m and 145 L/s',
      source: GORLA('3.1'),
      got: () => bucketPower(145, jetVelocity(1, 220, G), 14, bucketFactor(1, degrees(20))),
      want: 203570.0,
    },
    {
      what: 'power at 45 m and 0.82 m³/s',
      source: GORLA('3.3'),
      got: () => bucketPower(820, jetVelocity(0.98, 45, G), 14, bucketFactor(1, degrees(20))),
      want: 336673.0,
    },
    {
      what: 'jet velocity at 60 m',
      source: GORLA('3.7'),
      got: () => jetVelocity(0.98, 60, G),
      want: 33.62414,
    },
    {
      what: 'work per mass at 60 m',
      source: GORLA('3.7'),
      got: () => bucketPower(1, jetVelocity(0.98, 60, G), 12, bucketFactor(1, degrees(15))),
      want: 510.1375,
    },
    {
      what: 'bucket speed of the rig at 1500 min⁻¹',
      source: 'Quennerby data sheet, fictional rig, printed 9.66',
      got: () => bucketSpeed(rpm(1500), 0.123),
      want: 9.66,
      plusMinus: 0.005,
    },
    {
      what: 'bucket speed at 725 min⁻¹ and 478.457 mm',
      source: GORLA('3.2'),
      got: () => bucketSpeed(rpm(725), 0.478457),
      want: 18.16266,
      within: 2e-6,
    },
    {
      what: 'speed ratio of the rig',
      source: 'Quennerby data sheet, fictional rig, printed 0.459',
      got: () => speedRatio(bucketSpeed(rpm(1500), 0.123), jetVelocity(0.97, 24, G)),
      want: 0.459,
      plusMinus: 5e-4,
    },
    {
      what: 'bucket factor of k 0.9 at 15°',
      source: 'twice the peak efficiency 0.934667 of table 5.1',
      got: () => bucketFactor(0.9, degrees(15)),
      want: 2 * 0.934667,
    },
    {
      what: 'bucket factor of a frictionless 180° turn',
      source: 'theory',
      got: () => bucketFactor(1, 0),
      want: 2,
    },
  ])
})
