/** Confidence intervals without a formula: refit many times to points with resampled residuals. */
import { quantileInterpolated } from './quantiles.ts'

/** What to resample. */
export interface BootstrapOptions {
  /** Values of the fitted curve at the points. */
  fitted: readonly number[]
  /** Measured minus fitted, same order. */
  residuals: readonly number[]
  /** From new observations to the figure wanted, e.g. the discharge of best efficiency; NaN when the fit has none. */
  estimate: (observations: readonly number[]) => number
  /** Number of resamples, 1000 and more for 95 % ends. */
  draws: number
  random: Random
  /** Parameters of the fit; residuals are widened by √(n/(n − p)) for the freedom the fit took. Default 0. */
  parameters?: number
}

/**
 * Residual bootstrap: y* = fitted + a residual drawn with replacement, after centring, then the estimate of y*.
 *
 * @param options Fitted curve, residuals, estimate, draws and a seeded generator.
 * @returns The estimates that exist, and how many draws gave none (NaN): many of them mean the figure is not settled.
 * @throws {RangeError} when lengths differ or there are no spare points: programming errors.
 *
 * Limits: equal scatter at all points, independent residuals, 8 points and more.
 * Example: the standard error of a mean of n values comes out as s/√n.
 * Source: Efron & Tibshirani, An Introduction to the Bootstrap, 1993, ch. 9 (from memory).
 */
export function bootstrapResiduals(options: BootstrapOptions): { estimates: number[]; failed: number } {
  const { fitted, residuals, estimate, draws, random, parameters = 0 } = options
  const count = fitted.length
  if (residuals.length !== count || count <= parameters) {
    throw new RangeError(
      `bootstrapResiduals: ${count} fitted, ${residuals.length} residuals, ${parameters} parameters`,
    )
  }
  const centre = residuals.reduce((sum, r) => sum + r, 0) / count
  const widening = Math.sqrt(count / (count - parameters))
  const pool = residuals.map((r) => (r - centre) * widening)
  const estimates: number[] = []
  for (let draw = 0; draw < draws; draw++) {
    const value = estimate(fitted.map((y) => y + pool[Math.floor(random() * count)]!))
    if (!Number.isNaN(value)) estimates.push(value)
  }
  return { estimates, failed: draws - estimates.length }
}

/** Ends of a coverage interval. */
export interface Interval {
  low: number
  high: number
}

/**
 * Probabilistically symmetric interval of a sample of estimates.
 *
 * @param estimates Draws, any order.
 * @param probability p [–], e.g. 0.95.
 * @returns Quantiles at (1 − p)/2 and (1 + p)/2; NaN for no estimates.
 *
 * Limits: 1000 draws and more for 0.95.
 * Example: 95 % of four summed N(0, 1) → ±3.92.
 * Source: JCGM 101:2008, 7.7.
 */
export function symmetricInterval(estimates: readonly number[], probability: number): Interval {
  return {
    low: quantileInterpolated(estimates, (1 - probability) / 2),
    high: quantileInterpolated(estimates, (1 + probability) / 2),
  }
}

/** Seeded random numbers: the same seed gives the same draws on every machine. Not for secrets. */

/** Uniform on [0, 1). */
export type Random = () => number

/**
 * Uniform generator with 128 bits of state (sfc32), started from one 32-bit seed.
 *
 * @param seed Any integer; only its low 32 bits count.
 * @returns A function giving uniform draws on [0, 1), 32 bits each.
 *
 * Limits: period beyond 2^64 on average; not for secrets.
 * Example: createRandom(1)() is the same on every machine.
 * Source: Doty-Humphrey, PractRand (small fast counter generator, from memory).
 */
export function createRandom(seed: number): Random {
  let [a, b, c, counter] = [0x9e3779b9, 0x243f6a88, 0xb7e15162, seed | 0]
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (((c << 21) | (c >>> 11)) + sum) | 0
    return (sum >>> 0) / 4294967296
  }
  // The first draws of near seeds resemble each other; fifteen turns mix them.
  for (let i = 0; i < 15; i++) next()
  return next
}
