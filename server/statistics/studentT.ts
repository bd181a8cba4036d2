/** Student's t distribution. Degrees of freedom need not be whole: Welch and Satterthwaite's seldom are. */
import { incompleteBeta } from './incompleteBeta.ts'
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
