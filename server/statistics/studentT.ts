/** Student's t distribution. Degrees of freedom need not be whole: Welch and Satterthwaite's seldom are. */
import { normalQuantile } from './normal.ts'

/** Beyond this the expansion about the normal quantile is exact to 1e-12. */
const NEARLY_NORMAL = 1e5

/**
 * Chance that |T| exceeds t:  I_{ν/(ν + t²)}(ν/2, ½)
 *
 * @param t Bound, ≥ 0.
 * @param degreesOfFreedom ν > 0, any real number.
 * @returns Two-sided tail [–].
 *
 * Limits: ν up to 1e6.
 * Example: 2.262157, 9 → 0.05.
 * Source: Abramowitz & Stegun 26.7.1 with 26.5.
 */
export function studentTail(t: number, degreesOfFreedom: number): number {
  return incompleteBeta(degreesOfFreedom / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5)
}

/**
 * Two-sided quantile: the t for which |T| ≤ t with probability p, found by bisection on the tail.
 *
 * @param probability p [–], 0 < p < 1, e.g. 0.95.
 * @param degreesOfFreedom ν > 0, any real number; Infinity gives the normal quantile.
 * @returns t, to about 1e-10. NaN for p outside 0–1 or ν ≤ 0.
 *
 * Limits: p up to 1 − 1e-10.
 * Example: 0.95, 16.73 → 2.112412.
 * Source: JCGM 100:2008 (GUM) annex G.3, table G.2; for large ν Abramowitz & Stegun 26.7.5.
 */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1 && degreesOfFreedom > 0)) return Number.NaN
  if (degreesOfFreedom > NEARLY_NORMAL) return nearlyNormal(probability, degreesOfFreedom)
  const tail = 1 - probability
  let low = 0
  let high = 1
  while (studentTail(high, degreesOfFreedom) > tail) {
    low = high
    high *= 2
    if (high === Infinity) return Infinity
  }
  for (let i = 0; i < 80 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2
    if (studentTail(middle, degreesOfFreedom) > tail) low = middle
    else high = middle
  }
  return (low + high) / 2
}

function nearlyNormal(probability: number, degreesOfFreedom: number): number {
  const z = normalQuantile(0.5 + probability / 2)
  const first = (z ** 3 + z) / 4
  const second = (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96
  return z + first / degreesOfFreedom + second / degreesOfFreedom ** 2
}

const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406,
  12.507343278686905, -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
]

/**
 * Natural logarithm of the gamma function.
 *
 * @param x Argument, x > 0.
 * @returns ln Γ(x), to about 1e-14. NaN for x ≤ 0.
 *
 * Limits: x > 0.
 * Example: 7.3 → 7.147892523.
 * Source: Lanczos 1964, SIAM J. Numer. Anal. 1:86, nine coefficients with g = 7 (from memory).
 */
export function logGamma(x: number): number {
  if (!(x > 0)) return Number.NaN
  const shifted = x - 1
  let series = LANCZOS[0]!
  for (let i = 1; i < LANCZOS.length; i++) series += LANCZOS[i]! / (shifted + i)
  const t = shifted + 7.5
  return 0.5 * Math.log(2 * Math.PI) + (shifted + 0.5) * Math.log(t) - t + Math.log(series)
}

/**
 * Regularised incomplete beta function I_x(a, b), by continued fraction.
 *
 * @param x Upper end of the integral, 0–1.
 * @param a First shape, > 0.
 * @param b Second shape, > 0.
 * @returns I_x(a, b), to about 1e-12. NaN outside the ranges.
 *
 * Limits: a and b up to about 1e6.
 * Example: 0.3, 2.5, 0.5 → 0.018927124.
 * Source: Abramowitz & Stegun 26.5.8, evaluated by Lentz's method (Thompson & Barnett 1986).
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (!(x >= 0 && x <= 1 && a > 0 && b > 0)) return Number.NaN
  if (x === 0 || x === 1) return x
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x))
  // The fraction converges fast only below the mean of the distribution; the other side by symmetry.
  return x < (a + 1) / (a + b + 2)
    ? (front * continuedFraction(x, a, b)) / a
    : 1 - (front * continuedFraction(1 - x, b, a)) / b
}

function continuedFraction(x: number, a: number, b: number): number {
  const keepAway = (value: number) => (Math.abs(value) < 1e-300 ? 1e-300 : value)
  let c = 1
  let d = 1 / keepAway(1 - ((a + b) * x) / (a + 1))
  let fraction = d
  for (let m = 1; m <= 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / keepAway(1 + even * d)
    c = keepAway(1 + even / c)
    fraction *= c * d
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / keepAway(1 + odd * d)
    c = keepAway(1 + odd / c)
    fraction *= c * d
    if (Math.abs(c * d - 1) < 1e-16) break
  }
  return fraction
}
