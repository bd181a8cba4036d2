import type { Plant } from '../plant/plant.ts'
import type { FigureDescription } from '../wire/figure.ts'
import { unitOf } from '../wire/units.ts'
import type { ConstantSlots } from './constantSlots.ts'
import { compileExpression, type Expression, type SymbolBinding } from './expression.ts'
import { READINGS } from './quantities/beliefs.ts'
import { isListId, type Likelihood, membersOfList, type Quantity } from './quantity.ts'

/**
 * Whether a figure can be believed beside the others, measured or derived: power in MW and speed in Hz lie within the range of
 * their instruments. What cannot be believed is shown and uncertain, with the likely slip.
 */

/** One test of a figure, compiled. */
export interface LikelyTest {
  test: Expression
  inputs: readonly number[]
  otherwise: string
}

/** `x` in a test is the figure itself, `u_95` its ±. */
const [ITSELF, PLUS_MINUS] = ['x', 'u_95']

/** A node of the plan. */
interface Figure {
  kind: string
  index: number
  description: FigureDescription
}

interface Known {
  plant: Plant
  nodes: readonly Figure[]
  indexOf: ReadonlyMap<string, number>
  quantityOf: (id: string) => Quantity | undefined
  constants: ConstantSlots
  /** Slot that the ± of the figure is put into while its test is made. */
  scratch: number
}

/** The figures that tests of a quantity need beside what its formula needs. */
export function likelyInputs({ likely = [] }: Quantity): string[] {
  return likely.flatMap(({ inputs = {} }) => Object.values(inputs))
}

/** By index of the figure; a test that lacks something at this plant, or comes before what it needs, is left out. */
export function planLikely(known: Known): ReadonlyMap<number, readonly LikelyTest[]> {
  const planned = known.nodes.map((node): [number, LikelyTest[]] => {
    const { id } = node.description
    const likely = known.quantityOf(id)?.likely ?? (Object.hasOwn(READINGS, id) ? READINGS[id]! : [])
    return [node.index, likely.flatMap((one) => compileTest(node, one, known))]
  })
  return new Map(planned.filter(([, tests]) => tests.length > 0))
}

function compileTest(node: Figure, likely: Likelihood, known: Known): LikelyTest[] {
  const { plant, nodes, constants, scratch } = known
  const paths = Object.values(likely.constants ?? {})
  if (likely.applies?.(plant) === false || paths.some((path) => !plant.constants.has(path))) return []
  const { dimension } = unitOf(node.description.unit)
  const symbols = new Map<string, SymbolBinding>([
    [ITSELF!, { slots: [node.index], dimension }],
    [PLUS_MINUS!, { slots: [scratch], dimension }],
    ...constants.bind(likely.constants),
  ])
  for (const [symbol, id] of Object.entries(likely.inputs ?? {})) {
    const slots = (membersOfList(id) ?? []).map((one) => known.indexOf.get(one) ?? Number.NaN)
    if (slots.length === 0 || !slots.every((slot) => isBefore(node, nodes[slot]))) return []
    const { unit } = nodes[slots[0]!]!.description
    symbols.set(symbol, { slots, dimension: unitOf(unit).dimension, isList: isListId(id) })
  }
  const inputs = Object.keys(likely.inputs ?? {}).flatMap((symbol) => symbols.get(symbol)!.slots)
  return [{ test: compileExpression(likely.test, symbols), inputs, otherwise: likely.otherwise }]
}

/** Readings are held against readings alone: they are settled before anything is derived from them. */
function isBefore(node: Figure, input: Figure | undefined): boolean {
  if (!input) return false
  return node.kind === 'measured' ? input.kind === 'measured' : input.index < node.index
}

/** Says why a figure cannot be believed as it stands now; undefined where it can, or nobody can tell. */
export function createLikelihood(
  plan: { likely: ReadonlyMap<number, readonly LikelyTest[]>; scratch: number },
  {
    column,
    isKnown,
    expanded,
  }: { column: Float64Array; isKnown: (index: number) => boolean; expanded: (index: number) => number },
): (index: number) => string | undefined {
  function isBroken({ test, inputs }: LikelyTest, index: number): boolean {
    if (!inputs.every(isKnown)) return false
    column[plan.scratch] = 0
    if (test.evaluate(column) !== 0) return false
    // its ± is worked out only where it may matter
    column[plan.scratch] = expanded(index)
    return test.evaluate(column) === 0
  }

  return (index) => plan.likely.get(index)?.find((one) => isBroken(one, index))?.otherwise
}
