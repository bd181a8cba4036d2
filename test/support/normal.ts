import type { Random } from '../../server/statistics/bootstrap.ts'

/**
 * Standard normal draws from uniform ones:  z = √(−2 ln u₁)·cos 2πu₂
 *
 * Source: Box & Muller 1958, Ann. Math. Stat. 29:610.
 */
export function createNormal(random: Random): Random {
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}
