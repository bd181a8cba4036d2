import { normalQuantile } from './normal.ts'

/**
 * Quantile of the χ² distribution by the cube-root approximation, n·(1 − 2/(9n) + z·√(2/(9n)))³.
 *
 * @param probability 0–1.
 * @param freedom Degrees of freedom n, 1 and more.
 * @returns χ², within 2 % from 3 degrees of freedom on and above the median; 0 with none.
 *
 * Example: 0.95 with 10 → 18.29 (table: 18.307).
 * Source: Wilson & Hilferty 1931, Proc. Natl. Acad. Sci. 17:684 (from memory).
 */
export function chiSquareQuantile(probability: number, freedom: number): number {
  if (freedom < 1) return 0
  const a = 2 / (9 * freedom)
  return freedom * Math.max(0, 1 - a + normalQuantile(probability) * Math.sqrt(a)) ** 3
}
