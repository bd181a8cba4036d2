import { describe, expect, it } from 'vitest'
import { fitLinear, fitPolynomial } from '../../server/statistics/regression.ts'
import { checkEach } from './check.ts'
import {
  FILIP,
  FILIP_COEFFICIENTS,
  LONGLEY,
  NO_INTERCEPT_X,
  NO_INTERCEPT_Y,
  NORRIS,
  PONTIUS_X,
  PONTIUS_Y,
  WAMPLER_X,
  WAMPLER1_Y,
  WAMPLER2_Y,
  WAMPLER3_ERRORS,
  WAMPLER3_Y,
  WAMPLER5_Y,
} from './strd.ts'

const CERTIFIED = 'StRD certified value, read, reproduced at 60 digits for the project'

const norris = fitPolynomial(
  NORRIS.map(([, x]) => x),
  NORRIS.map(([y]) => y),
  1,
)
const pontius = fitPolynomial(PONTIUS_X, PONTIUS_Y, 2)
const longley = fitLinear({
  columns: [1, 2, 3, 4, 5, 6].map((column) => LONGLEY.map((row) => row[column]!)),
  y: LONGLEY.map((row) => row[0]!),
})
const noIntercept = fitLinear({ columns: [NO_INTERCEPT_X], y: NO_INTERCEPT_Y, intercept: false })

const FITS = [
  {
    name: 'Norris',
    fit: norris,
    coefficients: [-0.262323073774029, 1.00211681802045],
    errors: [0.232818234301152, 0.429796848199937e-3],
    deviation: 0.884796396144373,
    rSquared: 0.999993745883712,
    within: 1e-12,
  },
  {
    name: 'Pontius',
    fit: pontius,
    coefficients: [0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14],
    errors: [0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16],
    deviation: 2.05177424076185e-4,
    rSquared: 0.999999900178537,
    within: 1e-10,
  },
  {
    name: 'Longley',
    fit: longley,
    coefficients: [
      -3482258.63459582, 15.0618722713733, -0.035819179292591, -2.02022980381683, -1.03322686717359,
      -0.0511041056535807, 1829.15146461355,
    ],
    errors: [
      890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699, 0.214274163161675,
      0.22607320006937, 455.478499142212,
    ],
    deviation: 304.854073561965,
    rSquared: 0.995479004577296,
    within: 1e-8,
  },
  {
    name: 'NoInt1',
    fit: noIntercept,
    coefficients: [2.07438016528926],
    errors: [0.0165289256198347],
    deviation: 3.56753034006338,
    rSquared: 0.999365492298663,
    within: 1e-12,
  },
  {
    name: 'Wampler3',
    fit: fitPolynomial(WAMPLER_X, WAMPLER3_Y, 5),
    coefficients: [1, 1, 1, 1, 1, 1],
    errors: WAMPLER3_ERRORS,
    deviation: 2360.14502379268,
    rSquared: 0.99999555902582,
    within: 1e-7,
  },
]

describe('regression on the statistical reference data', () => {
  checkEach(
    FITS.flatMap(({ name, fit, coefficients, errors, deviation, rSquared, within }) => [
      ...coefficients.map((want, i) => ({
        what: `${name} B${i}`,
        source: CERTIFIED,
        got: () => fit.coefficients[i]!,
        want,
        within,
      })),
      ...errors.map((want, i) => ({
        what: `${name} standard error of B${i}`,
        source: CERTIFIED,
        got: () => fit.standardErrors[i]!,
        want,
        within,
      })),
      {
        what: `${name} residual deviation`,
        source: CERTIFIED,
        got: () => fit.residualDeviation,
        want: deviation,
        within,
      },
      { what: `${name} R²`, source: CERTIFIED, got: () => fit.rSquared, want: rSquared, within: 1e-12 },
    ]),
  )
  checkEach(
    [0, 1, 2, 3, 4, 5].flatMap((k) => [
      {
        what: `Wampler1 B${k}`,
        source: CERTIFIED,
        got: () => fitPolynomial(WAMPLER_X, WAMPLER1_Y, 5).coefficients[k]!,
        want: 1,
        within: 1e-7,
      },
      {
        what: `Wampler2 B${k}`,
        source: CERTIFIED,
        got: () => fitPolynomial(WAMPLER_X, WAMPLER2_Y, 5).coefficients[k]!,
        want: 10 ** -k,
        within: 1e-9,
      },
      {
        what: `Wampler5 B${k}`,
        source: CERTIFIED,
        got: () => fitPolynomial(WAMPLER_X, WAMPLER5_Y, 5).coefficients[k]!,
        want: 1,
        within: 1e-7,
      },
      {
        what: `Wampler5 standard error of B${k}`,
        source: CERTIFIED,
        got: () => fitPolynomial(WAMPLER_X, WAMPLER5_Y, 5).standardErrors[k]!,
        want: WAMPLER3_ERRORS[k]! * 1e4,
        within: 1e-9,
      },
    ]),
  )
  const filip = fitPolynomial(
    FILIP.map(([, x]) => x),
    FILIP.map(([y]) => y),
    10,
  )
  checkEach([
    ...FILIP_COEFFICIENTS.map((want, k) => ({
      what: `Filip B${k}`,
      source: CERTIFIED,
      got: () => filip.coefficients[k]!,
      want,
      within: 1e-6,
    })),
    {
      what: 'Filip residual deviation',
      source: 'StRD, from memory, reproduced',
      got: () => filip.residualDeviation,
      want: 0.334801051324544e-2,
      within: 1e-6,
    },
  ])
})

describe('regression', () => {
  it('fits a degree 0 as the mean with standard error s/√n (GUM 4.2.3)', () => {
    const fit = fitPolynomial([1, 2, 3, 4], [2, 4, 4, 6], 0)
    expect(fit.coefficients[0]).toBeCloseTo(4, 12)
    expect(fit.standardErrors[0]).toBeCloseTo(Math.sqrt(8 / 3) / 2, 12)
  })
  it('gives no numbers when columns say the same, or when a reading is missing', () => {
    const x = [1, 2, 3, 4]
    const twice = fitLinear({ columns: [x, x.map((value) => 2 * value)], y: [1, 2, 3, 5] })
    expect(twice.coefficients.every(Number.isNaN)).toBe(true)
    expect(fitPolynomial(x, [1, 2, NaN, 4], 1).coefficients.every(Number.isNaN)).toBe(true)
  })
  it('has no errors to state without spare points', () => {
    const exact = fitPolynomial([0, 1, 3], [1, 2, 10], 2)
    for (const [i, want] of [1, 0, 1].entries()) expect(exact.coefficients[i]).toBeCloseTo(want, 12)
    expect(exact.standardErrors.every(Number.isNaN)).toBe(true)
  })
  it('refuses columns of unequal length and too few points', () => {
    expect(() => fitPolynomial([1, 2], [1], 1)).toThrow(RangeError)
    expect(() => fitPolynomial([1, 2], [1, 2], 2)).toThrow(RangeError)
    expect(() => fitLinear({ columns: [[1, 2]], y: [1, 2, 3] })).toThrow(RangeError)
  })
})
