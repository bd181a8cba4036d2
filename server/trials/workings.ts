import { curveOf } from '../derive/curves.ts'
import { type DerivedNode, nodeOf, type Plan } from '../derive/plan.ts'
import { constantUnit } from '../plant/constants.ts'

/** How one figure follows from others, as it was when the run began; plain values, kept with the run. */
export interface Working {
  figure: string
  /** The text that computes it. */
  formula: string
  source: string
  /** Symbol → figures; several for a list such as all jets. */
  inputs: Record<string, string[]>
  /** Symbol → constant of the plant file, or of the formula itself. */
  constants: Record<string, { name: string; value: number; unit: string }>
  /** Name of a function in the formula → points of the plant file's curve. */
  curves: Record<string, [number, number][]>
}

/** The figures that these follow from, and these themselves, inputs before their use. */
export function closureOf(figures: readonly string[], { nodes, indexOf }: Plan): string[] {
  const found = new Set<number>()
  const visit = (index: number | undefined): void => {
    const node = index === undefined ? undefined : nodes[index]
    if (!node || found.has(node.index)) return
    found.add(node.index)
    if (node.kind === 'derived') for (const input of node.inputs) visit(input)
  }
  for (const id of figures) visit(indexOf.get(id))
  return [...found].sort((a, b) => a - b).map((index) => nodes[index]!.description.id)
}

/** The workings of those of the figures that are computed, and of what they follow from, inputs before their use. */
export function workingsOf(figures: readonly string[], plan: Plan): Working[] {
  return closureOf(figures, plan).flatMap((id) => {
    const node = nodeOf(plan, id)
    return node?.kind === 'derived' ? [workingOf(node, plan)] : []
  })
}

function workingOf({ description, way, expression, symbols }: DerivedNode, { plant, nodes }: Plan): Working {
  const fromFile = Object.entries(way.constants ?? {}).map(([symbol, path]) => [
    symbol,
    { name: path, value: plant.constants.get(path)!, unit: constantUnit(path) },
  ])
  const beside = Object.entries(way.amounts ?? {}).map(([symbol, { value, unit }]) => [
    symbol,
    { name: 'of the formula', value, unit },
  ])
  return {
    figure: description.id,
    formula: expression.text,
    source: way.source,
    inputs: Object.fromEntries(
      Object.keys(way.inputs).map((symbol) => [
        symbol,
        symbols.get(symbol)!.slots.map((slot) => nodes[slot]!.description.id),
      ]),
    ),
    constants: Object.fromEntries([...fromFile, ...beside]),
    curves: Object.fromEntries(
      Object.entries(way.curves ?? {}).map(([name, path]) => [name, curveOf(plant, path) ?? []]),
    ),
  }
}
