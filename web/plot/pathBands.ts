import type { PathNode } from '../../server/wire/plant.ts'

export interface PathLayout {
  /** Places one after the other, each fed by the one before. */
  trunk: PathNode[]
  /** What the last place of the trunk feeds, side by side; each with what follows it. */
  branches: PathNode[][]
}

/**
 * Parts a path into the places in a row and the branches at its end. Places that nothing known feeds, other
 * than the first, stand as branches of their own, so that none is lost.
 */
export function pathLayout(path: readonly PathNode[]): PathLayout {
  const first = path[0]
  if (!first) return { trunk: [], branches: [] }
  const childrenOf = (id: string) => path.filter((node) => node.from === id && node.id !== id)
  const trunk = [first]
  let next = childrenOf(first.id)
  while (next.length === 1 && !trunk.includes(next[0]!)) {
    trunk.push(next[0]!)
    next = childrenOf(next[0]!.id)
  }
  const taken = new Set(trunk)
  const branchFrom = (node: PathNode): PathNode[] => {
    if (taken.has(node)) return []
    taken.add(node)
    return [node, ...childrenOf(node.id).flatMap(branchFrom)]
  }
  const loose = path.filter((node) => node.from === null)
  const branches = [...next, ...loose, ...path].map(branchFrom).filter((branch) => branch.length > 0)
  return { trunk, branches }
}

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
