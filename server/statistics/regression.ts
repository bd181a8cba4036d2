/** Fits of measured points: a general linear model and a polynomial. */
import { type Solution, solveLeastSquares } from './leastSquares.ts'

/** A fitted curve and how well it fits. */
export interface Fit {
  /** With an intercept it comes first; for a polynomial from the constant upwards. */
  coefficients: number[]
  /** Of each coefficient; NaN without spare points. */
  standardErrors: number[]
  /** Covariance of the coefficients. */
  covariance: number[][]
  /** √(Σ residual²/(n − parameters)); NaN without spare points. */
  residualDeviation: number
  /** Share of the scatter explained; about the mean, or about zero when there is no intercept. */
  rSquared: number
  residuals: number[]
  degreesOfFreedom: number
}

/** What to fit. */
export interface LinearModel {
  /** One column for each explaining quantity, each as long as `y`. */
  columns: readonly (readonly number[])[]
  y: readonly number[]
  /** Default true. */
  intercept?: boolean
}

/**
 * General linear least squares:  y = b₀ + Σ bⱼxⱼ + e, on centred and scaled columns by Householder QR.
 *
 * @param model Columns, observations and whether there is an intercept.
 * @returns Coefficients with errors and quality of fit; all NaN when columns depend on each other or a value is NaN.
 * @throws {RangeError} when lengths differ or there are too few points: programming errors.
 *
 * Limits: equal weights. Certified digits kept: Norris 12, Longley 9 and more (see test/reference).
 * Example: x 1, 2, 3 and y 2, 4, 6 → b 0, 2.
 * Source: Golub & Van Loan, Matrix Computations, 5.3; checked with the NIST StRD data sets.
 */
export function fitLinear(model: LinearModel): Fit {
  const { columns, y, intercept = true } = model
  if (!intercept) return describe(y, solveLeastSquares(columns, y), { meanY: 0, parameters: columns.length })
  if (columns.some((column) => column.length !== y.length) || y.length <= columns.length) {
    throw new RangeError(
      `fitLinear: ${y.length} points cannot settle ${columns.length} columns and a constant`,
    )
  }
  const means = columns.map(mean)
  const meanY = mean(y)
  const centred = columns.map((column, j) => column.map((value) => value - means[j]!))
  const centredY = y.map((value) => value - meanY)
  const solution = columns.length === 0 ? constantOnly(centredY) : solveLeastSquares(centred, centredY)
  return describe(y, withConstant(solution, means, { meanY, count: y.length }), {
    meanY,
    parameters: columns.length + 1,
  })
}

/**
 * Polynomial least squares:  y = b₀ + b₁x + … + b_m·x^m, fitted in u = (x − centre)/half-range and expanded back.
 *
 * @param x Abscissas.
 * @param y Observations, same length.
 * @param degree m, a whole number ≥ 0.
 * @returns Coefficients of x from the constant upwards, with errors and quality of fit.
 * @throws {RangeError} when lengths differ, the degree is not whole, or there are too few points.
 *
 * Limits: keep to degree 3 for measured curves: higher ones swing between the points.
 * Example: x 0, 1, 2 and y 1, 2, 5, degree 2 → 1, 0, 1.
 * Source: Golub & Van Loan, Matrix Computations, 5.3; checked with the NIST StRD data sets.
 */
export function fitPolynomial(x: readonly number[], y: readonly number[], degree: number): Fit {
  if (!Number.isInteger(degree) || degree < 0) throw new RangeError(`fitPolynomial: degree ${degree}`)
  if (x.length !== y.length) throw new RangeError(`fitPolynomial: ${x.length} x but ${y.length} y`)
  const [low, high] = [Math.min(...x), Math.max(...x)]
  const centre = (low + high) / 2
  const halfRange = (high - low) / 2 || 1
  const u = x.map((value) => (value - centre) / halfRange)
  const columns = Array.from({ length: degree }, (_, k) => u.map((value) => value ** (k + 1)))
  const fit = fitLinear({ columns, y })
  const expand = expansion({ degree, centre, halfRange })
  const coefficients = expand.map((row) => dot(row, fit.coefficients))
  const halfway = expand.map((row) => fit.covariance.map((column) => dot(row, column)))
  const covariance = halfway.map((row) => expand.map((other) => dot(row, other)))
  return { ...fit, coefficients, covariance, standardErrors: covariance.map((row, i) => Math.sqrt(row[i]!)) }
}

function describe(
  y: readonly number[],
  solution: Solution,
  { meanY, parameters }: { meanY: number; parameters: number },
): Fit {
  const degreesOfFreedom = y.length - parameters
  const variance = degreesOfFreedom > 0 ? solution.residualSquares / degreesOfFreedom : Number.NaN
  const covariance = solution.unscaledCovariance.map((row) => row.map((value) => value * variance))
  const total = y.reduce((sum, value) => sum + (value - meanY) ** 2, 0)
  return {
    coefficients: solution.coefficients,
    standardErrors: covariance.map((row, i) => Math.sqrt(row[i]!)),
    covariance,
    residualDeviation: Math.sqrt(variance),
    rSquared: total === 0 ? Number.NaN : 1 - solution.residualSquares / total,
    residuals: solution.residuals,
    degreesOfFreedom,
  }
}

/** Adds the constant b₀ = ȳ − Σ bⱼx̄ⱼ and its covariances to a fit of centred columns. */
function withConstant(
  solution: Solution,
  means: readonly number[],
  { meanY, count }: { meanY: number; count: number },
): Solution {
  const inner = solution.unscaledCovariance
  const cross = inner.map((row) => -dot(row, means))
  const corner = 1 / count - dot(cross, means)
  return {
    ...solution,
    coefficients: [meanY - dot(solution.coefficients, means), ...solution.coefficients],
    unscaledCovariance: [[corner, ...cross], ...inner.map((row, i) => [cross[i]!, ...row])],
  }
}

function constantOnly(centredY: readonly number[]): Solution {
  return {
    coefficients: [],
    residuals: [...centredY],
    residualSquares: centredY.reduce((sum, r) => sum + r * r, 0),
    unscaledCovariance: [],
  }
}

/** Row k holds the shares of each b in u that go to the coefficient of x^k: ((x − c)/h)^j expanded. */
function expansion({ degree, centre, halfRange }: { degree: number; centre: number; halfRange: number }) {
  const rows = Array.from({ length: degree + 1 }, () => new Array<number>(degree + 1).fill(0))
  let power = [1]
  for (let j = 0; j <= degree; j++) {
    power.forEach((share, k) => {
      rows[k]![j] = share
    })
    const shifted = [0, ...power]
    power = shifted.map((share, k) => (share - centre * (power[k] ?? 0)) / halfRange)
  }
  return rows
}

function mean(values: readonly number[]): number {
  const first = values.reduce((sum, value) => sum + value, 0) / values.length
  // A second pass removes the rounding of the first: Norris needs the last digits.
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0)
}
