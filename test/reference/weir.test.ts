import { describe, expect, it } from 'vitest'
import { broadCrestedWeir, rectangularWeir, simpleWeir, vNotch } from '../../server/physics/weir.ts'
import { checkEach, degrees } from './check.ts'

const G = 9.80665
const ISO = 'ISO 1438 / Bos 1989, coefficients from memory, computed for the project'

describe('rectangular weir', () => {
  checkEach([
    {
      what: 'full width, h 0.12, p 0.30, b 0.60 m,',
      source: ISO,
      got: () => rectangularWeir(0.12, 0.3, 0.6, 0.6, G),
      want: 0.04705205,
      within: 1e-5,
    },
    {
      what: 'contracted, b/B 0.2, h 0.20, p 0.50, b 1.0 m,',
      source: ISO,
      got: () => rectangularWeir(0.2, 0.5, 1, 5, G),
      want: 0.1568929,
      within: 1e-5,
    },
    {
      what: 'contracted, b/B 0.5, h 0.15, p 0.40, b 0.5 m,',
      source: ISO,
      got: () => rectangularWeir(0.15, 0.4, 0.5, 1, G),
      want: 0.05194632,
      within: 1e-5,
    },
    {
      what: 'full width, h 0.30, p 0.40, b 2 m,',
      source: ISO,
      got: () => rectangularWeir(0.3, 0.4, 2, 2, G),
      want: 0.6415924,
      within: 1e-5,
    },
    {
      what: 'full width, h 0.30, p 0.40, b 2 m,',
      source: 'a public fluids library, full-width form, computed',
      got: () => rectangularWeir(0.3, 0.4, 2, 2, G),
      want: 0.6415603,
      within: 1e-4,
    },
    {
      what: 'full width against Rehbock, h 0.30, p 0.40, b 2 m,',
      source: 'Rehbock formula from memory, computed for the project; both agree to 1.1 %',
      got: () => rectangularWeir(0.3, 0.4, 2, 2, G),
      want: 0.6483777,
      within: 0.011,
    },
    {
      what: 'full width against Rehbock, h 0.30, p 0.40, b 2 m,',
      source: 'Rehbock formula of a public fluids library, computed; both agree to 1.2 %',
      got: () => rectangularWeir(0.3, 0.4, 2, 2, G),
      want: 0.6486856,
      within: 0.012,
    },
  ])
  /** b/B, slope and constant of Ce in ft^½/s; their unit is 5.3476 times the metric one. */
  const EPA: [number, number, number][] = [
    [0.2, -0.0087, 3.152],
    [0.4, 0.0317, 3.164],
    [0.5, 0.0612, 3.173],
    [0.6, 0.0995, 3.178],
    [0.7, 0.1602, 3.182],
    [0.8, 0.2376, 3.189],
    [0.9, 0.3447, 3.205],
    [1, 0.4, 3.22],
  ]
  checkEach(
    EPA.map(([ratio, slope, constant]) => ({
      what: `coefficient at b/B ${ratio} and h/p 0.5`,
      source: 'US EPA storm-water manual vol. II table 6-2, read at second hand; 0.3 %',
      // A wide weir under 1 m of head, so that kb and kh hardly count.
      got: () =>
        rectangularWeir(1, 2, 100, 100 / ratio, G) / ((2 / 3) * Math.sqrt(2 * G) * 100 * 1.001 ** 1.5),
      want: (constant + slope * 0.5) / 5.3476,
      within: 3e-3,
    })),
  )
  it('carries nothing at crest level, and has no value below it or when wider than its channel', () => {
    expect(rectangularWeir(0, 0.3, 0.6, 0.6, G)).toBe(0)
    expect([rectangularWeir(-0.01, 0.3, 0.6, 0.6, G), rectangularWeir(0.1, 0.3, 2, 1, G)]).toEqual([NaN, NaN])
  })
})

describe('simple weir', () => {
  checkEach(
    (
      [
        [0.125, 0.02349069],
        [0.1, 0.01680857],
        [0.05, 0.005942727],
      ] as const
    ).map(([h, want]) => ({
      what: `0.6 · ⅔√(2g)·b·h^1.5 with b 0.3 and h ${h} m`,
      source: 'public quiz data, read, recomputed',
      got: () => simpleWeir(0.6, h, 0.3, 9.81),
      want,
    })),
  )
  checkEach([
    {
      what: 'a broad crest with C (⅔)^1.5·√g against critical-flow theory, h 0.2, b 3 m,',
      source: 'q = √(g·y³) at y = ⅔h, hand calculation: y 0.133333, q 0.152499, times 3',
      got: () => broadCrestedWeir((2 / 3) ** 1.5 * Math.sqrt(9.80665), 0.2, 3),
      want: 0.4574,
      within: 1e-4,
    },
    {
      what: 'a broad crest with C 1.70, h 1, b 1 m,',
      source: 'definition, common practice',
      got: () => broadCrestedWeir(1.7, 1, 1),
      want: 1.7,
    },
  ])
})

/** h m, Q m³/s, printed to seven decimals. */
const NINETY: [number, number][] = [
  [0.05, 0.000796],
  [0.06, 0.001247],
  [0.08, 0.0025375],
  [0.1, 0.0044095],
  [0.2, 0.0246821],
  [0.25, 0.0430266],
  [0.3, 0.0677762],
  [0.38, 0.1222044],
]
/** θ °, Ce, kh mm, Q at h = 0.2 m. */
const OTHER: [number, number, number, number][] = [
  [22.5, 0.59058, 2.56, 0.00512388],
  [30, 0.586425, 2.129, 0.00681727],
  [45, 0.580175, 1.5, 0.01034534],
  [60, 0.576671, 1.127, 0.01426643],
  [90, 0.577905, 0.885, 0.02468866],
]

describe('V-notch weir', () => {
  checkEach(
    NINETY.map(([h, want]) => ({
      what: `90° notch at ${h} m`,
      source:
        'Kindsvater–Shen, ISO 1438, from memory, computed for the project; Ce 0.578 and kh 0.85 mm for 0.577905 and 0.885 mm',
      got: () => vNotch(h, degrees(90), G) * ((0.578 / 0.577905) * ((h + 0.85e-3) / (h + 0.885e-3)) ** 2.5),
      want,
      within: 2e-5 + 1e-7 / want,
    })),
  )
  checkEach(
    [0.15, 0.2, 0.3].map((h) => ({
      what: `90° notch at ${h} m by the rule of thumb 1.38·h^2.5`,
      source: 'common practice, agrees to 0.4 % from 0.15 to 0.30 m',
      got: () => vNotch(h, degrees(90), G),
      want: 1.38 * h ** 2.5,
      within: 4e-3,
    })),
  )
  checkEach(
    OTHER.flatMap(([angle, ce, kh, want]) => [
      {
        what: `${angle}° notch at 0.2 m`,
        source: 'Kulin & Compton 1975 fit, from memory, computed for the project',
        got: () => vNotch(0.2, degrees(angle), G),
        want,
        within: 1e-5,
      },
      {
        what: `${angle}° notch over its coefficient ${ce} and kh ${kh} mm`,
        source: 'Kulin & Compton 1975; 22.5° and 30° read, others from memory',
        got: () => vNotch(0.2, degrees(angle), G),
        want: (8 / 15) * ce * Math.sqrt(2 * G) * Math.tan(degrees(angle) / 2) * (0.2 + kh / 1000) ** 2.5,
        within: 2e-5,
      },
    ]),
  )
  it('carries nothing at its vertex and has no value below it', () => {
    expect(vNotch(0, degrees(45), G)).toBe(0)
    expect([vNotch(-0.1, degrees(45), G), vNotch(0.1, 0, G)]).toEqual([NaN, NaN])
  })
})
