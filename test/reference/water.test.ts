import { describe } from 'vitest'
import { waterViscosity } from '../../server/physics/water.ts'
import { figureOf } from '../support/figureBench.ts'
import { celsius, checkEach } from './check.ts'

/** t °C, ρ IAPWS-95, ρ Kell, ρ Tanaka (NaN above 40 °C), µ mPa·s, ν 1e-6 m²/s. */
const TABLE: [number, number, number, number, number, number][] = [
  [0.01, 999.8438, 999.8402, 999.8435, 1.7911, 1.79141],
  [4, 999.9749, 999.972, 999.9749, 1.5673, 1.56733],
  [5, 999.9666, 999.9638, 999.9668, 1.5182, 1.51822],
  [10, 999.7025, 999.6996, 999.7027, 1.3059, 1.30629],
  [15, 999.1026, 999.0996, 999.1026, 1.1376, 1.13859],
  [20, 998.2072, 998.2041, 998.2067, 1.0016, 1.0034],
  [25, 997.0476, 997.0449, 997.047, 0.89002, 0.892658],
  [30, 995.6495, 995.6473, 995.6488, 0.79722, 0.800705],
  [40, 992.2164, 992.2158, 992.2152, 0.65273, 0.657849],
  [50, 988.035, 988.0363, Number.NaN, 0.54652, 0.553134],
  [60, 983.1958, 983.1989, Number.NaN, 0.46604, 0.474],
]
const density = (celsiusDegrees: number) =>
  figureOf('waterDensity', { waterTemperature: `${celsiusDegrees} Cel` })
const SOURCE = 'IAPWS library 1.5.2, computed for the project'

/** Mean pressure of the machine is that of half its rated head, 9806.65 Pa a metre over one atmosphere. */
const UNDER_HEAD: [t: number, absolute: number, iapws: number][] = [
  [10, 1e6, 1000.1316],
  [10, 2e6, 1000.6081],
  [10, 5e6, 1002.0313],
  [20, 1e6, 998.6184],
  [20, 5e6, 1000.4396],
  [4, 1e6, 1000.4191],
  [15, 3e6, 1000.4519],
]

describe('density of water in a machine', () => {
  checkEach(
    UNDER_HEAD.map(([t, absolute, iapws]) => ({
      what: `density at ${t} °C and ${absolute / 1e6} MPa`,
      source: 'IAPWS-95, library 1.5.2, computed for the project',
      got: () =>
        figureOf(
          'waterDensity',
          { waterTemperature: `${t} Cel` },
          { turbine: `{ kind: pelton, ratedNetHead: ${(2 * (absolute - 101_325)) / 9806.65} m }` },
        ),
      want: iapws,
      plusMinus: 0.01,
    })),
  )
})

describe('density of water', () => {
  checkEach(
    TABLE.flatMap(([t, iapws, kell, tanaka]) => [
      ...(Number.isNaN(tanaka)
        ? []
        : [
            {
              what: `density at ${t} °C`,
              source: 'Tanaka formula, computed for the project',
              got: () => density(t),
              want: tanaka,
              plusMinus: 1e-4,
            },
          ]),
      {
        what: `density at ${t} °C against IAPWS-95`,
        source: `${SOURCE}; documented as 0.02 low at 60 °C`,
        got: () => density(t),
        want: iapws,
        plusMinus: t > 40 ? 0.02 : 0.005,
      },
      {
        what: `density at ${t} °C against Kell`,
        source: 'Kell 1975 formula, computed for the project; it is 0.003 lower near 20 °C',
        got: () => density(t),
        want: kell,
        plusMinus: t > 50 ? 0.025 : 0.007,
      },
    ]),
  )
  checkEach([
    {
      what: 'density at 25 °C and 0.1 MPa',
      source: 'IAPWS SR6-08 verification value, from memory, recomputed',
      got: () => density(25),
      want: 997.047013,
      plusMinus: 0.001,
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

describe('density of water under pressure, which the figure does not know of,', () => {
  checkEach(
    UNDER_PRESSURE.map(([t, p, want]) => ({
      what: `density at ${t} °C and ${p} MPa`,
      source: `IAPWS-95, ${SOURCE}; 0.05 % higher for each MPa`,
      got: () => density(t),
      want,
      within: 5e-4 * p,
    })),
  )
})

describe('viscosity of water', () => {
  checkEach(
    TABLE.flatMap(([t, , , , mu, nu]) => [
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
        got: () => figureOf('kinematicViscosity', { waterTemperature: `${t} Cel` }),
        want: nu * 1e-6,
        within: 1e-3,
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
  ])
})
