import { describe } from 'vitest'
import { ownLaw } from '../../support/ownFigureBench.ts'
import { checkEach, degrees } from '../check.ts'

// Gravity, head and weirs as an owner would write them.

// NGA.STND.0036 (WGS84), Somigliana with the second-order free-air term; formula and constants from memory.
const wgs84 = ownLaw(
  { phi: 'deg', z: 'm' },
  'id: s, formula: "sin(phi) ^ 2", unit: "1"',
  'id: f, formula: "1 / 298.257223563", unit: "1"',
  'id: surface, formula: "g_e * (1 + 0.00193185265241 * s) / sqrt(1 - 0.00669437999013 * s)", constants: { g_e: 9.7803253359 m/s2 }, unit: m/s2',
  'id: x, formula: "z / a", constants: { a: 6378137 m }, unit: "1"',
  'id: g, formula: "surface * (1 - 2 * (1 + f + 0.00344978650684 - 2 * f * s) * x + 3 * x ^ 2)", unit: m/s2',
)
const iec60041 = ownLaw(
  { phi: 'deg' },
  'id: g, formula: "gravityIec60041(phi, z)", constants: { z: 0 m }, unit: m/s2',
)

/** φ °, WGS84, GRS80. */
const BY_LATITUDE: [number, number, number][] = [
  [0, 9.780325336, 9.780326772],
  [15, 9.783784962, 9.783786398],
  [30, 9.793247269, 9.793248704],
  [45, 9.806197769, 9.806199202],
  [60, 9.819176953, 9.819178385],
  [75, 9.828696627, 9.828698058],
  [90, 9.832184938, 9.832186368],
]

describe('gravity', () => {
  checkEach(
    BY_LATITUDE.flatMap(([latitude, want, grs80]) => [
      {
        what: `WGS84 at ${latitude}°`,
        source: 'constants from memory, computed for the project',
        got: () => wgs84({ phi: degrees(latitude), z: 0 }),
        want,
        plusMinus: 1e-9,
      },
      {
        what: `IEC 60041 at ${latitude}° against WGS84`,
        source: 'WGS84 ellipsoid, computed for the project; models agree to 5e-5',
        got: () => iec60041({ phi: degrees(latitude) }),
        want,
        plusMinus: 5e-5,
      },
      {
        what: `gravity at ${latitude}° by WGS84 beside GRS80`,
        source: 'table 2.2, computed for the project; 5e-5 across models',
        got: () => wgs84({ phi: degrees(latitude), z: 0 }),
        want: grs80,
        plusMinus: 5e-5,
      },
    ]),
  )
  checkEach(
    (
      [
        [0, 9.806198],
        [500, 9.804655],
        [1000, 9.803113],
        [2000, 9.80003],
      ] as const
    ).map(([z, want]) => ({
      what: `WGS84 at 45° and ${z} m`,
      source: 'second-order formula from memory, computed for the project',
      got: () => wgs84({ phi: degrees(45), z }),
      want,
      plusMinus: 1e-6,
    })),
  )
})

const pressureOfHead = ownLaw(
  { H: 'm', rho: 'kg/m3', g: 'm/s2' },
  'id: pressure, formula: "rho * g * H", unit: Pa',
)
const totalHead = ownLaw(
  { p: 'Pa', Q: 'm3/s', D: 'm', dz: 'm', rho: 'kg/m3', g: 'm/s2' },
  'id: head, formula: "p / (rho * g) + meanVelocity(Q, D) ^ 2 / (2 * g) + dz", unit: m',
)

describe('head', () => {
  checkEach([
    {
      what: '100 m at 1000 and 9.81',
      source: 'exact',
      got: () => pressureOfHead({ H: 100, rho: 1000, g: 9.81 }),
      want: 981e3,
      within: 1e-12,
    },
    {
      what: '100 m at 1000 and 9.80665',
      source: 'exact',
      got: () => pressureOfHead({ H: 100, rho: 1000, g: 9.80665 }),
      want: 980.665e3,
      within: 1e-12,
    },
    {
      what: '100 m at 20 °C and 9.80665',
      source: 'computed for the project',
      got: () => pressureOfHead({ H: 100, rho: 998.2072, g: 9.80665 }),
      want: 978.9069e3,
    },
    ...(
      [
        ['a', { p: 480e3, Q: 0.012, D: 0.1, dz: 0.35, rho: 999.1, g: 9.8066 }, 49.459743],
        ['b', { p: 250e3, Q: 0.0035, D: 0.05, dz: 0.2, rho: 999.7, g: 9.81 }, 25.853796],
        ['c', { p: 1.2e6, Q: 0.15, D: 0.25, dz: 1.1, rho: 1000, g: 9.8 }, 124.025396],
      ] as const
    ).map(([id, readings, want]) => ({
      what: `total head ${id}`,
      source: `worked number 3.2 ${id}, IEC 60041 definition, computed for the project`,
      got: () => totalHead(readings),
      want,
    })),
  ])
})

const G = 'g: 9.80665 m/s2'
// Rehbock 1929; ISO 1438 (from memory).
const rehbock = ownLaw(
  { h: 'm' },
  `id: weir, formula: "2 / 3 * (0.602 + 0.083 * h / p) * sqrt(2 * g) * b * (h + k) ^ 1.5",
    constants: { p: 0.4 m, b: 2 m, k: 1.2 mm, ${G} }, unit: m3/s`,
)
// Kindsvater & Shen; ISO 1438 (from memory).
const notch90 = ownLaw(
  { h: 'm' },
  `id: notch, formula: "8 / 15 * 0.578 * sqrt(2 * g) * (h + k) ^ 2.5", constants: { k: 0.85 mm, ${G} }, unit: m3/s`,
)

describe('weirs', () => {
  checkEach([
    {
      what: 'Rehbock, h 0.30, p 0.40, b 2 m,',
      source: 'from memory, computed for the project',
      got: () => rehbock({ h: 0.3 }),
      want: 0.6483777,
    },
    {
      what: 'Rehbock, h 0.30, p 0.40, b 2 m,',
      source: 'a public fluids library, computed',
      got: () => rehbock({ h: 0.3 }),
      want: 0.6486856,
      within: 1e-3,
    },
    ...(
      [
        [0.05, 0.000796],
        [0.06, 0.001247],
        [0.08, 0.0025375],
        [0.1, 0.0044095],
        [0.2, 0.0246821],
        [0.25, 0.0430266],
        [0.3, 0.0677762],
        [0.38, 0.1222044],
      ] as const
    ).map(([h, want]) => ({
      what: `90° notch at ${h} m`,
      source: 'Kindsvater–Shen, ISO 1438, from memory, computed for the project',
      got: () => notch90({ h }),
      want,
      plusMinus: 1e-7,
    })),
    ...[0.15, 0.2, 0.3].map((h) => ({
      what: `90° notch at ${h} m by the rule of thumb 1.38·h^2.5`,
      source: 'common practice, agrees to 0.4 % from 0.15 to 0.30 m',
      got: () => notch90({ h }),
      want: 1.38 * h ** 2.5,
      within: 4e-3,
    })),
  ])
})
