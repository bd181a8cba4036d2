import { describe, expect, it } from 'vitest'
import {
  bucketDischarge,
  differentialMeter,
  orificeCoefficient,
  orificeCornerTaps,
  orificeFlangeTaps,
  orificeOutflow,
  orificeRadiusTaps,
  pulseDischarge,
  velocityAreaDischarge,
} from '../../server/physics/index.ts'
import { checkEach } from './check.ts'

const ITERATED = 'water orifice 7.6, ε = 1, computed for the project'
const RHG = 'ISO 5167-2 Reader-Harris/Gallagher, computed for the project'

describe('orifice plate', () => {
  checkEach([
    {
      what: 'coefficient with flange taps, D 73.91 mm, d 22.2 mm, 0.12 kg/s of air,',
      source: 'documentation of a public fluids library, read and recomputed',
      got: () =>
        orificeCoefficient(
          (4 * 0.12) / (Math.PI * 0.07391 * 1.85e-5),
          0.0222 / 0.07391,
          0.07391,
          0.0254 / 0.07391,
          0.0254 / 0.07391,
        ),
      want: 0.5990326277,
      plusMinus: 1e-9,
    },
    ...(
      [
        [0.5, 1e5, 0.60687, 0.60618],
        [0.6, 1e5, 0.61034, 0.61178],
        [0.6, 1e6, 0.60541, 0.60695],
      ] as const
    ).flatMap(([beta, re, corner, radius]) => [
      {
        what: `coefficient with corner taps, β ${beta}, Re ${re}`,
        source: RHG,
        got: () => orificeCoefficient(re, beta, 0.1, 0, 0),
        want: corner,
        plusMinus: 1e-5,
      },
      {
        what: `coefficient with D and D/2 taps, β ${beta}, Re ${re}`,
        source: RHG,
        got: () => orificeCoefficient(re, beta, 0.1, 1, 0.47),
        want: radius,
        plusMinus: 1e-5,
      },
    ]),
    {
      what: 'flow with corner taps, 100/60 mm at 25 kPa',
      source: ITERATED,
      got: () => orificeCornerTaps(25e3, 0.06, 0.1, 998.2, 1.0016e-3),
      want: 0.013057288,
    },
    {
      what: 'mass flow with corner taps, 100/60 mm at 25 kPa',
      source: ITERATED,
      got: () => 998.2 * orificeCornerTaps(25e3, 0.06, 0.1, 998.2, 1.0016e-3),
      want: 13.033785,
    },
    {
      what: 'flow with D and D/2 taps, 150/90 mm at 12 kPa',
      source: ITERATED,
      got: () => orificeRadiusTaps(12e3, 0.09, 0.15, 999.1, 1.1376e-3),
      want: 0.020402424,
    },
    {
      what: 'mass flow with D and D/2 taps, 73.66/50 mm at 17 kPa',
      source: ITERATED,
      got: () => 999.1 * orificeRadiusTaps(17e3, 0.05, 0.07366, 999.1, 1.1e-3),
      want: 7.929917,
    },
    {
      what: 'flow with flange taps over the meter law with the flange coefficient at its own Reynolds number',
      source: 'ISO 5167-2, consistency; coefficient checked above against a library',
      got: () => {
        const q = orificeFlangeTaps(20e3, 0.0222, 0.07391, 998.2, 1.0016e-3)
        const c = orificeCoefficient(
          (4 * q * 998.2) / (Math.PI * 0.07391 * 1.0016e-3),
          0.0222 / 0.07391,
          0.07391,
          0.0254 / 0.07391,
          0.0254 / 0.07391,
        )
        return q / differentialMeter(c, 20e3, 0.0222, 0.07391, 998.2)
      },
      want: 1,
      within: 1e-12,
    },
    {
      what: 'flow with flange taps, 100/60 mm at 25 kPa, near that with corner taps',
      source: 'corner value of 7.6; taps change C by under 0.5 % here',
      got: () => orificeFlangeTaps(25e3, 0.06, 0.1, 998.2, 1.0016e-3),
      want: 0.013057288,
      within: 5e-3,
    },
  ])
  it('passes nothing without a pressure difference and has no value for a reversed one', () => {
    expect(orificeCornerTaps(0, 0.06, 0.1, 998.2, 1e-3)).toBe(0)
    expect(orificeCornerTaps(-100, 0.06, 0.1, 998.2, 1e-3)).toBeNaN()
    expect(differentialMeter(0.6, 1000, 0.1, 0.1, 998.2)).toBeNaN()
  })
})

describe('differential-pressure meter', () => {
  checkEach([
    {
      what: 'a machined venturi 100/50 mm at 30 kPa',
      source: 'example 7.7, coefficient from memory, computed for the project',
      got: () => differentialMeter(0.995, 30e3, 0.05, 0.1, 998.2),
      want: 0.015643509,
    },
    {
      what: 'methanol through 40/30 mm at 11 cm of mercury',
      source: 'Cengel & Cimbala Ex. 8-10, read in a transcription, recomputed',
      got: () => differentialMeter(0.6010574, 13824.998, 0.03, 0.04, 788.4),
      want: 3.043151e-3,
    },
  ])
})

describe('outflow under a head', () => {
  const area = (Math.PI / 4) * 0.0075 ** 2
  checkEach([
    {
      what: 'one 7.5 mm nozzle at 24 m',
      source: 'Quennerby data sheet, fictional rig, printed 0.901 L/s',
      got: () => orificeOutflow(0.94, area, 24, 9.81),
      want: 0.000901,
      plusMinus: 5e-7,
    },
    {
      what: 'four 7.5 mm nozzles at 24 m',
      source: 'Quennerby data sheet, fictional rig, printed 3.605 L/s',
      got: () => 4 * orificeOutflow(0.94, area, 24, 9.81),
      want: 0.003605,
      plusMinus: 5e-7,
    },
  ])
})

describe('other discharge measurements', () => {
  checkEach([
    {
      what: '20.0 L in 8.00 s',
      source: 'example 7.9, exact',
      got: () => bucketDischarge(0.02, 8),
      want: 0.0025,
      within: 1e-15,
    },
    {
      what: '1 m³ in one minute',
      source: 'definition',
      got: () => bucketDischarge(1, 60),
      want: 1 / 60,
      within: 1e-15,
    },
    {
      what: '45 Hz at 7.5 pulses/s per L/min',
      source: 'example 7.9, exact: 6.0 L/min',
      got: () => pulseDischarge(45, 7.5 * 60 * 1000),
      want: 6e-3 / 60,
      within: 1e-15,
    },
    {
      what: '9000 pulses in a minute at 450 pulses/L',
      source: 'example 7.9, exact: 20 L/min',
      got: () => pulseDischarge(150, 450e3),
      want: 0.02 / 60,
      within: 1e-14,
    },
    {
      what: 'the mean-section gauging',
      source: 'example 7.9, exact: .0250 + .1500 + .12375 + .0150',
      got: () => velocityAreaDischarge(gauging),
      want: 0.31375,
      within: 1e-14,
    },
    {
      what: 'its first segment',
      source: 'example 7.9, exact',
      got: () => velocityAreaDischarge(gauging.slice(0, 2)),
      want: 0.025,
      within: 1e-14,
    },
  ])
  it('refuses a gauging whose distances do not rise', () => {
    expect(() => velocityAreaDischarge([...gauging].reverse())).toThrow(RangeError)
  })
})

const gauging = [0, 0.4, 0.6, 0.3, 0].map((depth, i) => ({
  distance: i * 0.5,
  depth,
  velocity: [0, 0.5, 0.7, 0.4, 0][i]!,
}))
