import { NORMAL_95, normalCumulative, normalDensity } from './normal.ts'
import { studentQuantile } from './studentT.ts'

/** Two-sided 95 % points of Student's t for 1 … 30 degrees of freedom. */
const T95 = Array.from({ length: 30 }, (_, i) => studentQuantile(0.95, i + 1))

/**
 * Coverage factor k for a 95 % interval, U = k·u:  k = t(ν)/1.96 · k(first, second)
 *
 * @param freedom Effective degrees of freedom, interpolated between whole ones as JCGM 100 G.4.1 allows; infinity gives 1.96.
 * @param first Largest rectangular contribution as a share of u, 0–1; default none.
 * @param second The next one.
 * @returns k [–]: Student's t where all is scatter, 1.645 for one rectangle alone, 1.96 for many alike.
 *
 * Limits: freedom ≥ 1; below 1 it is taken as 1. Above 30 the expansion 1.95996 + 2.3722/ν + 2.82/ν² is used
 * (Cornish–Fisher), within 0.0005 of the exact point. Rectangles and few degrees of freedom together: the interval
 * holds 93–95 % with 3 degrees of freedom, 94.3–95.1 % with 6 (computed).
 * Source: JCGM 100:2008 G.3, G.4; JCGM 101:2008 for the rectangles.
 */
export function coverageFactor95(freedom: number, first = 0, second = 0): number {
  const student = studentFactor95(freedom)
  return first === 0 ? student : (student / NORMAL_95) * rectangleCoverage(first, second)
}

function studentFactor95(freedom: number): number {
  if (freedom >= T95.length) return NORMAL_95 + 2.3722 / freedom + 2.82 / freedom ** 2
  const whole = Math.max(1, Math.floor(freedom))
  const beyond = Math.max(0, freedom - whole)
  // ln t sags over 1/ν: a straight line lies above it, by 4 % between 1 and 2 and by less than 1 % later.
  const share = (beyond * (whole + 1)) / (whole + beyond)
  return T95[whole - 1]! * (T95[whole]! / T95[whole - 1]!) ** share
}

/** No rectangle is taken as narrower and no rest as smaller than this share of u: the formula divides by them. */
const NARROWEST = 0.003
const SMALLEST_REST = 0.01
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
  const corners = [a + b, a - b, b - a, -a - b]
  let k = justBelow(first ** 4 + second ** 4)
  // The distribution function is concave right of the middle: from the left Newton's steps never pass the root.
  for (let step = 0; step < STEPS; step++) {
    let cumulative = 0
    let density = 0
    for (let i = 0; i < corners.length; i++) {
      const z = (k + corners[i]!) / s
      const below = normalCumulative(z)
      const once = z * below + normalDensity(z) // ∫Φ
      const sign = i === 0 || i === 3 ? 1 : -1
      density += sign * once
      cumulative += (sign * (z * once + below)) / 2 // H = ∫∫Φ
    }
    const more = (0.975 * 4 * a * b - s * s * cumulative) / (s * density)
    k += more
    if (more < 1e-4) return k
  }
  return k
}

/** From the kurtosis, which is −1.2 times `fourth`; never above k, and seldom more than 0.01 below. */
function justBelow(fourth: number): number {
  return 1.955 - 0.11 * fourth - 0.205 * fourth ** 2
}
