import type { DerivedNode, Plan } from './plan.ts'
import { createWindow, type Window } from './window.ts'

/** Figures that look back: the slope or the mean of one other figure over a stretch of time. */
export interface Windows {
  /** Every reading of an instrument counts, not only the one that is latest when figures are computed. */
  take(leaf: number, at: number, value: number): void
  /** For a figure that looks at a derived one: its newest value. */
  feed(node: DerivedNode, at: number, value: number): void
  value(node: DerivedNode): number
  /** Standard error of a slope; 0 for a mean. */
  error(node: DerivedNode): number
  /** The instrument that it looks at, or undefined where it looks at a derived figure. */
  leafOf(node: DerivedNode): number | undefined
}

export function createWindows(plan: Plan): Windows {
  const windows = new Map<number, Window>()
  const byLeaf = new Map<number, Window[]>()
  for (const node of plan.nodes) {
    if (node.kind !== 'derived' || !node.way.window) continue
    const window = createWindow(node.way.window.seconds)
    windows.set(node.index, window)
    const leaf = leafOf(node)
    if (leaf !== undefined) byLeaf.set(leaf, [...(byLeaf.get(leaf) ?? []), window])
  }

  function leafOf(node: DerivedNode): number | undefined {
    const input = plan.nodes[node.inputs[0]!]
    return input?.kind === 'measured' ? input.leaf : undefined
  }

  return {
    take(leaf, at, value) {
      for (const window of byLeaf.get(leaf) ?? []) window.add(at, value)
    },
    feed(node, at, value) {
      if (leafOf(node) === undefined) windows.get(node.index)!.add(at, value)
    },
    value(node) {
      const window = windows.get(node.index)!
      return node.way.window!.take === 'slope' ? window.line().slope : window.mean()
    },
    error: (node) => (node.way.window!.take === 'slope' ? windows.get(node.index)!.line().error : 0),
    leafOf,
  }
}
