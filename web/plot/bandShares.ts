/** Thinnest drawn share, so that a small power is still a line. */
export const LEAST_SHARE = 0.02

/**
 * How wide the power band is at each node, as a share of the largest power. Where a power is not known the
 * band is as wide as the nearest known ones beside it make likely (and is drawn hatched).
 *
 * @param powers [W] in the order of the path; null where not known.
 * @param largest Power [W] that is drawn full width; by default the largest of `powers`.
 */
export function bandShares(powers: readonly (number | null)[], largest = largestOf(powers)): number[] {
  return powers.map((power, i) => {
    const known = power === null ? neighbours(powers, i) : [Math.abs(power)]
    const mean = known.reduce((sum, value) => sum + value, 0) / Math.max(1, known.length)
    return Math.max(LEAST_SHARE, largest === 0 ? 0 : mean / largest)
  })
}

export function largestOf(powers: readonly (number | null)[]): number {
  return Math.max(0, ...powers.map((power) => Math.abs(power ?? 0)))
}

/** Sizes of the nearest known powers before and after a node. */
function neighbours(powers: readonly (number | null)[], i: number): number[] {
  const before = powers.slice(0, i).findLast((power) => power !== null)
  const after = powers.slice(i + 1).find((power) => power !== null)
  return [before, after].flatMap((power) => (power == null ? [] : [Math.abs(power)]))
}
