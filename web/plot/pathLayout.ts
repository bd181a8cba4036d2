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
