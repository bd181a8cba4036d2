import { describe, expect, it } from 'vitest'
import { scaleValue } from '../../server/ingest/scale.ts'
import {
  differentialMeter,
  orificeCoefficient,
  orificeCornerTaps,
  orificeFlangeTaps,
  orificeRadiusTaps,
} from '../../server/physics/orifice.ts'
import { readMeans } from '../../server/trials/typed/simpleMeans.ts'
import { figureOf } from '../support/figureBench.ts'
import { plantOf } from '../support/plants.ts'
import { checkEach } from './check.ts'
import { atHead, onPhases, TEXTBOOK } from './textbook.ts'

const ITERATED = 'water orifice 7.6, ε = 1, computed for the project'
const RHG = 'ISO 5167-2 Reader-Harris/Gallagher, computed for the project'

/** By the figure of a plant; its viscosity is that of 20 °C. */
const plate = (dp: number, d: number, D: number, rho: number) =>
  figureOf(
    'meterFlow',
    { meterPressureDifference: `${dp} Pa` },
    {
      site: `waterDensity: ${rho} kg/m3, waterTemperature: 20 Cel`,
      orifice: `{ bore: ${d} m, pipeBore: ${D} m }`,
    },
  )

/** Δp, d, D, ρ, µ and the flows with corner, flange and D and D/2 taps. */
const BY_TAPS = [
  [25e3, 0.06, 0.1, 998.2, 1.0016e-3, 0.01305728764, 0.01306863659, 0.01308889007],
  [12e3, 0.09, 0.15, 999.1, 1.1376e-3, 0.02035339305, 0.0203558375, 0.0204024244],
  [20e3, 0.18, 0.3, 999.7, 1.3059e-3, 0.10474190555, 0.10466958432, 0.1050026418],
  [15e3, 0.03, 0.0627, 998.2, 1.0016e-3, 0.00242378414, 0.00241969988, 0.00242005684],
] as const

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
      what: 'flow of the meter figure, 100/60 mm at 25 kPa',
      source: ITERATED,
      got: () => plate(25e3, 0.06, 0.1, 998.2),
      want: 0.013057288,
      within: 1e-5,
    },
    {
      what: 'mass flow of the meter figure, 100/60 mm at 25 kPa',
      source: ITERATED,
      got: () => 998.2 * plate(25e3, 0.06, 0.1, 998.2),
      want: 13.033785,
      within: 1e-5,
    },
    {
      what: 'flow with corner taps, 100/60 mm at 25 kPa and 1.0016 mPa·s',
      source: ITERATED,
      got: () => orificeCornerTaps(25e3, 0.06, 0.1, 998.2, 1.0016e-3),
      want: 0.013057288,
    },
    {
      what: 'mass flow with corner taps, 100/60 mm at 25 kPa and 1.0016 mPa·s',
      source: ITERATED,
      got: () => 998.2 * orificeCornerTaps(25e3, 0.06, 0.1, 998.2, 1.0016e-3),
      want: 13.033785,
    },
    ...BY_TAPS.flatMap(([dp, d, D, rho, mu, corner, flange, radius]) =>
      (
        [
          ['corner', orificeCornerTaps, corner],
          ['flange', orificeFlangeTaps, flange],
          ['D and D/2', orificeRadiusTaps, radius],
        ] as const
      ).map(([taps, flow, want]) => ({
        what: `flow with ${taps} taps, ${1000 * D}/${1000 * d} mm at ${dp / 1000} kPa`,
        source: 'coefficient of a public fluids library, iterated with its Reynolds number, ε = 1',
        got: () => flow(dp, d, D, rho, mu),
        want,
        within: 1e-8,
      })),
    ),
    {
      what: 'mass flow with D and D/2 taps, 73.66/50 mm at 17 kPa',
      source: `${ITERATED}; a gas expansibility would make it 7.702338`,
      got: () => 999.1 * orificeRadiusTaps(17e3, 0.05, 0.07366, 999.1, 1.1e-3),
      want: 7.929917,
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
  const nozzles = (open: number) =>
    figureOf(
      'nozzleFlow',
      {
        ...atHead(24),
        ...onPhases(
          'jetOpen',
          Array.from({ length: 4 }, (_, k) => (k < open ? 1 : 0)),
          '1',
        ),
      },
      { ...TEXTBOOK, turbine: '{ kind: pelton, nozzleCoefficient: 0.94, nozzleBore: 7.5 mm }' },
    )
  checkEach([
    {
      what: 'one 7.5 mm nozzle at 24 m',
      source: 'Quennerby data sheet, fictional rig, printed 0.901 L/s',
      got: () => nozzles(1),
      want: 0.000901,
      plusMinus: 5e-7,
    },
    {
      what: 'four 7.5 mm nozzles at 24 m',
      source: 'Quennerby data sheet, fictional rig, printed 3.605 L/s',
      got: () => nozzles(4),
      want: 0.003605,
      plusMinus: 5e-7,
    },
  ])
})

describe('other discharge measurements', () => {
  /** 20 ± 0.1 L in 8 ± 0.2 s. */
  const bucket = (volume: number, seconds: number) => {
    const read = readMeans(
      {
        means: 'bucket',
        first: { value: volume, unit: 'L', u: 0.1 },
        second: { value: seconds, unit: 's', u: 0.2 },
      },
      'test',
    )
    return 'value' in read ? read : { value: Number.NaN, u: Number.NaN }
  }
  const pulses = (perLitre: number, hertz: number) => {
    const meter = plantOf(`
id: pulses
name: Pulse meter
use: rig
site: { timeZone: Etc/UTC }
instruments:
  - { id: q, role: discharge, topic: t/q, unit: L/min, scale: { kind: linear, factor: ${60 / perLitre} } }
`).instruments[0]!
    return scaleValue(meter, hertz).value
  }
  checkEach([
    {
      what: '20.0 L in 8.00 s',
      source: 'example 7.9, exact',
      got: () => bucket(20, 8).value,
      want: 0.0025,
      within: 1e-15,
    },
    {
      what: '1 m³ in one minute',
      source: 'definition',
      got: () => bucket(1000, 60).value,
      want: 1 / 60,
      within: 1e-15,
    },
    {
      what: 'the relative uncertainty in % of 20 ± 0.1 L in 8 ± 0.2 s',
      source: 'worked number 7.9, exact',
      got: () => (100 * bucket(20, 8).u) / 0.0025,
      want: 2.54951,
      within: 1e-5,
    },
    {
      what: '45 Hz at 7.5 pulses/s per L/min',
      source: 'example 7.9, exact: 6.0 L/min',
      got: () => pulses(7.5 * 60, 45),
      want: 6,
      within: 1e-15,
    },
    {
      what: '9000 pulses in a minute at 450 pulses/L',
      source: 'example 7.9, exact: 20 L/min',
      got: () => pulses(450, 150),
      want: 20,
      within: 1e-14,
    },
  ])
})
