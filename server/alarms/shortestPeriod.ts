import type { Plant } from '../plant/plant.ts'

/** Beat [ms] of the fastest instrument that speaks regularly; 0 where none does. */
export function shortestPeriod({ instruments }: Plant): number {
  const periods = instruments.filter((one) => one.periodic).map((one) => one.periodMs)
  return periods.length === 0 ? 0 : Math.min(...periods)
}
