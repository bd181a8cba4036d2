import { normalCumulative, normalDensity } from './normal.ts'

/** No rectangle is taken as narrower and no rest as smaller than this share of u: the formula divides by them. */
const NARROWEST = 0.003
const SMALLEST_REST = 0.01
/** k of a single rectangle is √3 · 0.95 = 1.6454, the least that there is. */
const LEAST = 1.64
const STEPS = 12

/**
 * Coverage factor of a sum of two rectangles and a normal rest:  P(|R(a) + R(b) + N(s)| ≤ k·u) = 0.95
 *
 * With H(z) = ½((z² + 1)Φ(z) + zφ(z)), the second integral of the normal density's integral,
 * P(X ≤ x) = s²/(4ab) · (H((x+a+b)/s) − H((x+a−b)/s) − H((x−a+b)/s) + H((x−a−b)/s)).
 *
 * @param first Standard uncertainty of the larger rectangle as a share of the sum's u, 0–1.
 * @param second The same of the other one.
 * @returns k [–], to 0.0002: 1.6454 for one rectangle alone, 1.9019 for two of one width, 1.9600 for none.
 *
 * Limits: first² + second² ≤ 1. Further rectangles belong to the rest; taken as normal they move k by less than 0.6 %.
 * Example: 10/√103, 1/√103 → 1.6753, hence the ± 17.0 of JCGM 101 9.2.4.
 * Source: JCGM 101:2008 5.3.2 and 7.7 (the distribution itself gives the interval), by integration.
 */
export function rectangleCoverage(first: number, second: number): number {
  const a = Math.sqrt(3) * Math.max(first, NARROWEST)
  const b = Math.sqrt(3) * Math.max(second, NARROWEST)
  const s = Math.sqrt(Math.max(1 - first ** 2 - second ** 2, SMALLEST_REST ** 2))
  let k = LEAST
  // The distribution function is concave right of the middle: from the left Newton's steps never pass the root.
  for (let step = 0; step < STEPS; step++) {
    const far = (k + a + b) / s
    const [right, left] = [(k + a - b) / s, (k - a + b) / s]
    const near = (k - a - b) / s
    const cumulative = (s * s * (twice(far) - twice(right) - twice(left) + twice(near))) / (4 * a * b)
    const density = (s * (once(far) - once(right) - once(left) + once(near))) / (4 * a * b)
    const more = (0.975 - cumulative) / density
    k += more
    if (more < 1e-4) return k
  }
  return k
}

/** ∫Φ */
function once(z: number): number {
  return z * normalCumulative(z) + normalDensity(z)
}

/** ∫∫Φ */
function twice(z: number): number {
  return 0.5 * ((z * z + 1) * normalCumulative(z) + z * normalDensity(z))
}
