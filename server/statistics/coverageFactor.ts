import { rectangleCoverage } from './rectangleCoverage.ts'

/**
 * Two-sided 95 % points of Student's t for 1 … 30 degrees of freedom, then for steps up to infinity.
 * Source: JCGM 100:2008 table G.2, computed to four decimals with a statistics library.
 */
const T95 = [
  12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.306, 2.2622, 2.2281, 2.201, 2.1788, 2.1604,
  2.1448, 2.1314, 2.1199, 2.1098, 2.1009, 2.093, 2.086, 2.0796, 2.0739, 2.0687, 2.0639, 2.0595, 2.0555,
  2.0518, 2.0484, 2.0452, 2.0423,
]

const NORMAL95 = 1.959964

/**
 * Coverage factor k for a 95 % interval, U = k·u:  k = t(ν)/1.96 · k(first, second)
 *
 * @param freedom Effective degrees of freedom, rounded down as JCGM 100 G.4.1 asks; infinity gives 1.96.
 * @param first Largest rectangular contribution as a share of u, 0–1; default none.
 * @param second The next one.
 * @returns k [–]: Student's t where all is scatter, 1.645 for one rectangle alone, 1.96 for many alike.
 *
 * Limits: freedom ≥ 1; below 1 it is taken as 1. Above 30 the expansion 1.95996 + 2.3722/ν + 2.82/ν² is used
 * (Cornish–Fisher), within 0.0005 of the exact point. Rectangles and few degrees of freedom together: the interval
 * holds 93–95 % with 3 degrees of freedom, 94.3–95.1 % with 6 (computed).
 * Source: JCGM 100:2008 G.3, G.4; JCGM 101:2008 for the rectangles, see rectangleCoverage.ts.
 */
export function coverageFactor95(freedom: number, first = 0, second = 0): number {
  const student = studentFactor95(freedom)
  return first === 0 ? student : (student / NORMAL95) * rectangleCoverage(first, second)
}

function studentFactor95(freedom: number): number {
  const whole = Math.max(1, Math.floor(freedom))
  if (whole <= T95.length) return T95[whole - 1]!
  return NORMAL95 + 2.3722 / whole + 2.82 / whole ** 2
}
