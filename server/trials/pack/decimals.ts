/**
 * Decimals of the last digit that an uncertainty allows: one digit of it, or two if it starts with 1. Negative for
 * tens, hundreds, …
 *
 * Source: JCGM 100:2008, 7.2.6.
 */
export function decimalsFor(uncertainty: number): number {
  const [digits, exponent] = uncertainty.toExponential().split('e')
  return (digits!.startsWith('1') ? 1 : 0) - Number(exponent)
}
