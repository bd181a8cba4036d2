/** Unbalance of three phases. Voltages and currents are RMS. */

/**
 * Largest departure of three phases from their mean:  max|xₖ − x̄|/x̄
 *
 * @param first RMS value of the first phase [V or A].
 * @param second RMS value of the second phase.
 * @param third RMS value of the third phase.
 * @returns Unbalance [–]. NaN when the mean is 0.
 *
 * Limits: magnitudes only.
 * Example: 10, 10, 13 → 0.1818.
 * Source: NEMA MG-1 definition (from memory).
 */
export function phaseUnbalance(first: number, second: number, third: number): number {
  const mean = (first + second + third) / 3
  const worst = Math.max(Math.abs(first - mean), Math.abs(second - mean), Math.abs(third - mean))
  return mean === 0 ? Number.NaN : worst / mean
}
