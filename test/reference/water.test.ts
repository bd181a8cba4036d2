import { describe } from 'vitest'
import {
  waterBulkModulus,
  waterCompressibility,
  waterDensity,
  waterDensityKell,
  waterDensityTanaka,
  waterKinematicViscosity,
  waterSoundSpeed,
  waterVapourPressure,
  waterViscosity,
} from '../../server/physics/index.ts'
import { celsius, checkEach } from './check.ts'

/** t °C, ρ IAPWS-95, ρ Kell, ρ Tanaka (NaN above 40 °C), µ mPa·s, ν 1e-6 m²/s, p_sat Pa. */
const TABLE: [number, number, number, number, number, number, number][] = [
  [0.01, 999.8438, 999.8402, 999.8435, 1.7911, 1.79141, 611.657],
  [4, 999.9749, 999.972, 999.9749, 1.5673, 1.56733, 813.549],
  [5, 999.9666, 999.9638, 999.9668, 1.5182, 1.51822, 872.575],
  [10, 999.7025, 999.6996, 999.7027, 1.3059, 1.30629, 1228.184],
  [15, 999.1026, 999.0996, 999.1026, 1.1376, 1.13859, 1705.745],
  [20, 998.2072, 998.2041, 998.2067, 1.0016, 1.0034, 2339.215],
  [25, 997.0476, 997.0449, 997.047, 0.89002, 0.892658, 3169.747],
  [30, 995.6495, 995.6473, 995.6488, 0.79722, 0.800705, 4246.688],
  [40, 992.2164, 992.2158, 992.2152, 0.65273, 0.657849, 7384.427],
  [50, 988.035, 988.0363, Number.NaN, 0.54652, 0.553134, 12351.27],
  [60, 983.1958, 983.1989, Number.NaN, 0.46604, 0.474, 19945.802],
]
const ATMOSPHERE = 101_325
const SOURCE = 'IAPWS library 1.5.2, computed for the project'

describe('density of water', () => {
  checkEach(
    TABLE.flatMap(([t, iapws, kell, tanaka]) => [
      {
        what: `Kell 1975 at ${t} °C`,
        source: 'Kell formula, computed for the project',
        got: () => waterDensityKell(celsius(t)),
        want: kell,
        plusMinus: 1e-4,
      },
      {
        what: `Kell 1975 at ${t} °C against IAPWS-95`,
        source: SOURCE,
        got: () => waterDensityKell(celsius(t)),
        want: iapws,
        plusMinus: 0.02,
      },
      ...(Number.isNaN(tanaka)
        ? []
        : [
            {
              what: `Tanaka 2001 at ${t} °C`,
              source: 'Tanaka formula, computed for the project',
              got: () => waterDensityTanaka(celsius(t)),
              want: tanaka,
              plusMinus: 1e-4,
            },
            {
              what: `the default at ${t} °C and one atmosphere`,
              source: SOURCE,
              got: () => waterDensity(celsius(t), ATMOSPHERE),
              want: iapws,
              plusMinus: 0.005,
            },
          ]),
    ]),
  )
  checkEach([
    {
      what: 'the default at 25 °C and 0.1 MPa',
      source: 'IAPWS SR6-08 verification value, from memory, recomputed',
      got: () => waterDensity(celsius(25), 1e5),
      want: 997.047013,
      plusMinus: 0.001,
    },
    {
      what: 'Tanaka 2001 as it drifts above its range at 60 °C',
      source: `${SOURCE}; documented as 0.02 low`,
      got: () => waterDensityTanaka(celsius(60)),
      want: 983.1958,
      plusMinus: 0.02,
    },
  ])
})

/** t °C, p MPa, ρ by IAPWS-95. */
const UNDER_PRESSURE: [number, number, number][] = [
  [10, 0.1, 999.7018],
  [10, 1, 1000.1316],
  [10, 2, 1000.6081],
  [10, 5, 1002.0313],
  [20, 0.1, 998.2065],
  [20, 1, 998.6184],
  [20, 5, 1000.4396],
  [20, 10, 1002.6946],
  [4, 1, 1000.4191],
  [15, 3, 1000.4519],
]

describe('density of water under pressure', () => {
  checkEach(
    UNDER_PRESSURE.map(([t, p, want]) => ({
      what: `the default at ${t} °C and ${p} MPa`,
      source: `IAPWS-95, ${SOURCE}`,
      got: () => waterDensity(celsius(t), p * 1e6),
      want,
      plusMinus: 0.01,
    })),
  )
  checkEach([
    {
      what: 'compressibility at 20 °C, a little above its mean over 0.1–5 MPa,',
      source: `mean 4.57e-10, ${SOURCE}`,
      got: () => waterCompressibility(celsius(20)),
      want: 4.57e-10,
      within: 0.01,
    },
    {
      what: 'compressibility at 10 °C',
      source: `mean 4.76e-10, ${SOURCE}`,
      got: () => waterCompressibility(celsius(10)),
      want: 4.76e-10,
      within: 0.01,
    },
  ])
})

describe('viscosity and vapour pressure of water', () => {
  checkEach(
    TABLE.flatMap(([t, , , , mu, nu, vapour]) => [
      {
        what: `dynamic viscosity at ${t} °C`,
        source: `IAPWS R12-08, ${SOURCE}`,
        got: () => waterViscosity(celsius(t)),
        want: mu * 1e-3,
        within: 1e-3,
      },
      {
        what: `kinematic viscosity at ${t} °C`,
        source: SOURCE,
        got: () => waterKinematicViscosity(celsius(t)),
        want: nu * 1e-6,
        within: 1e-3,
      },
      {
        what: `vapour pressure at ${t} °C`,
        source: SOURCE,
        got: () => waterVapourPressure(celsius(t)),
        want: vapour,
        within: 5e-4,
      },
    ]),
  )
  checkEach([
    {
      what: 'dynamic viscosity at 298.15 K',
      source: 'IAPWS R12-08 verification point at 998 kg/m³, from memory, recomputed',
      got: () => waterViscosity(298.15),
      want: 889.7351e-6,
      within: 1e-3,
    },
    ...(
      [
        [300, 3536.58941],
        [500, 2.63889776e6],
        [600, 12.3443146e6],
      ] as const
    ).map(([t, want]) => ({
      what: `vapour pressure at ${t} K`,
      source: 'IAPWS-IF97 table 35, from memory, recomputed',
      got: () => waterVapourPressure(t),
      want,
      within: 1e-8,
    })),
  ])
})

describe('sound in water', () => {
  checkEach(
    (
      [
        [5, 1426.17, 2.0339],
        [10, 1447.27, 2.094],
        [20, 1482.35, 2.1934],
        [30, 1509.15, 2.2676],
      ] as const
    ).flatMap(([t, speed, modulus]) => [
      {
        what: `sound speed at ${t} °C`,
        source: SOURCE,
        got: () => waterSoundSpeed(celsius(t)),
        want: speed,
        within: 5e-4,
      },
      {
        what: `bulk modulus at ${t} °C`,
        source: SOURCE,
        got: () => waterBulkModulus(celsius(t)),
        want: modulus * 1e9,
        within: 5e-4,
      },
    ]),
  )
})
