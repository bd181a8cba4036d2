import type { Instrument, Plant } from '../plant/plant.ts'
import { roleOf } from '../plant/roles.ts'
import type { FigureDescription, MissingFigure } from '../wire/figure.ts'
import { unitOf } from '../wire/units.ts'
import { type Accumulation, accumulations } from './accumulations.ts'
import { relationsOf } from './agreement/relations/index.ts'
import { type Compiled, testCompiler } from './conditions.ts'
import { createConstantSlots, type DoubtfulConstant } from './constantSlots.ts'
import { curveFunctions, curveOf } from './curves.ts'
import { describeAccumulated, describeDerived, describeMeasured } from './describe.ts'
import { equal, printDimension } from './dimensions.ts'
import {
  compileExpression,
  type Expression,
  FormulaFault,
  ListFault,
  type SymbolBinding,
} from './expression.ts'
import { windowFunctions } from './formulaFunctions.ts'
import { type LikelyTest, likelyInputs, planLikely } from './likely.ts'
import { ownFigures } from './ownFigures.ts'
import { quantities as builtIn } from './quantities/index.ts'
import {
  countDefaults,
  isListId,
  membersOfList,
  type Quantity,
  STORAGE_FIGURES,
  type ValidityFloor,
  type Way,
} from './quantity.ts'

/**
 * Which figures a plant gets follows from its instruments: measured ones first, then whatever can be computed
 * from them. The plan is made once per plant file; evaluation only walks it.
 */
export interface Plan {
  plant: Plant
  /** In an order in which every input comes before its use. */
  nodes: FigureNode[]
  indexOf: ReadonlyMap<string, number>
  missing: MissingFigure[]
  /** Slots: one per figure, then the constants of the plant file. */
  column: Float64Array
  /** Slot for the ± of the figure that is just held against others. */
  scratch: number
  /** Tests of what can be believed, by figure. */
  likely: ReadonlyMap<number, readonly LikelyTest[]>
  /** Constants and curves that formulas use and that have a ±: leaves of the uncertainty, behind the instruments. */
  doubtful: DoubtfulConstant[]
}

export interface MeasuredNode {
  kind: 'measured'
  index: number
  description: FigureDescription
  instrument: Instrument
  /** Position among the instruments: the column of its share in uncertainty. */
  leaf: number
}

export interface DerivedNode {
  kind: 'derived'
  index: number
  description: FigureDescription
  quantity: Quantity
  way: Way
  expression: Expression
  /** Distinct input figures. */
  inputs: number[]
  /** Positions in the plan's `doubtful` of those constants and curves that the formula itself names. */
  doubtful: number[]
  symbols: ReadonlyMap<string, SymbolBinding>
  valid: Compiled<ValidityFloor>[]
  /** Outside of these it is shown, uncertain. */
  limits: Compiled<Omit<ValidityFloor, 'isFault'>>[]
}

/** A figure that remembers: what it stands at is set from outside. */
export interface AccumulatedNode {
  kind: 'accumulated'
  index: number
  description: FigureDescription
  accumulation: Accumulation
  /** The figures that it needs, in the order of the accumulation. */
  inputs: number[]
}

export type FigureNode = MeasuredNode | DerivedNode | AccumulatedNode

/** Undefined where the plant has no such figure. */
export function nodeOf({ nodes, indexOf }: Plan, figure: string): FigureNode | undefined {
  return nodes[indexOf.get(figure) ?? -1]
}

/** @throws {FormulaFault} when a built-in formula is wrong: a programming error that the tests find. */
export function planFigures(plant: Plant, quantities: readonly Quantity[] = quantitiesOf(plant)): Plan {
  const planner = createPlanner(plant, quantities)
  for (const accumulation of accumulations) planner.accumulate(accumulation)
  for (const quantity of quantities) planner.resolve(quantity.id)
  return planner.finish()
}

/** What Headrace knows, then the plant's own figures in an order in which inputs come first. */
function quantitiesOf(plant: Plant): Quantity[] {
  const relations = relationsOf(plant).map(({ quantity }) => quantity)
  return [...builtIn, ...relations, ...ownFigures(plant).quantities]
}

const DEEPEST = 20

function createPlanner(plant: Plant, quantities: readonly Quantity[]) {
  const nodes: FigureNode[] = plant.instruments.map((instrument, i) => ({
    kind: 'measured',
    index: i,
    leaf: i,
    instrument,
    description: describeMeasured(instrument, plant),
  }))
  const indexOf = new Map(nodes.map((node) => [node.description.id, node.index]))
  const byId = new Map(quantities.map((quantity) => [quantity.id, quantity]))
  const names = new Map([...accumulations, ...quantities].map(({ id, name }) => [id, name]))
  /** Constants live behind the most figures that there can be. */
  const scratch = plant.instruments.length + quantities.length + accumulations.length
  const base = scratch + 1
  const constants = createConstantSlots(plant, base)
  const failed = new Map<string, string>()
  const open = new Set<string>()

  /** Index of the figure, or undefined when this plant cannot have it. */
  function resolve(id: string): number | undefined {
    const known = indexOf.get(id)
    if (known !== undefined) return known
    const quantity = byId.get(id)
    if (!quantity || failed.has(id) || open.has(id) || open.size > DEEPEST) return undefined
    open.add(id)
    const needs: string[] = []
    const made = quantity.ways.some((way) => tryWay(quantity, way, needs))
    open.delete(id)
    if (made) return indexOf.get(id)
    if (open.size === 0) failed.set(id, sentence(needs))
    return undefined
  }

  function tryWay(quantity: Quantity, way: Way, needs: string[]): boolean {
    if (way.applies && !way.applies(plant)) return false
    return tryFilled(quantity, withDefaults(way), needs)
  }

  function tryFilled(quantity: Quantity, way: Way, needs: string[]): boolean {
    const lacking: string[] = []
    const bound = bindInputs(way, lacking)
    lacking.push(...Object.values(way.constants ?? {}).filter((path) => !plant.constants.has(path)))
    lacking.push(...Object.values(way.curves ?? {}).filter((path) => !curveOf(plant, path)))
    if (lacking.length > 0) {
      needs.push([...new Set(lacking.map(nameOf))].join(' and '))
      return false
    }
    // What tells whether a figure is steady, or can be believed, is known before the figure itself.
    for (const storage of quantity.steady ?? []) for (const id of STORAGE_FIGURES[storage]) resolve(id)
    for (const id of likelyInputs(quantity)) resolve(id)
    try {
      addDerived(quantity, way, bound)
      return true
    } catch (fault) {
      if (!(fault instanceof ListFault)) throw fault
      needs.push(fault.message)
      return false
    }
  }

  function withDefaults(way: Way): Way {
    const absent = Object.keys(way.defaults ?? {}).filter((symbol) => {
      const [input, path] = [way.inputs[symbol], way.constants?.[symbol]]
      return input === undefined ? !plant.constants.has(path!) : slotsOf(input, []).length === 0
    })
    return absent.length === 0 ? way : countDefaults(way, absent)
  }

  function bindInputs(way: Way, lacking: string[]): Map<string, SymbolBinding> {
    const bound = new Map<string, SymbolBinding>()
    for (const [symbol, id] of Object.entries(way.inputs)) {
      const slots = slotsOf(id, lacking)
      if (slots.length === 0) continue
      const { dimension } = unitOf(nodes[slots[0]!]!.description.unit)
      bound.set(symbol, { slots, dimension, isList: isListId(id) })
    }
    return bound
  }

  /** Empty, with what is lacking, where the plant cannot have it, or not all of a list that has to be whole. */
  function slotsOf(id: string, lacking: string[]): number[] {
    const ids = membersOfList(id) ?? allOf(id.slice(0, -2))
    if (ids.length === 0) lacking.push(id)
    const found = ids.map((one) => ({ one, slot: resolve(one) }))
    const absent = found.filter(({ slot }) => slot === undefined)
    lacking.push(...absent.map(({ one }) => one))
    return absent.length > 0 ? [] : found.map(({ slot }) => slot!)
  }

  /** Unless an instrument gives it; before the quantities, which may use it. */
  function accumulate(accumulation: Accumulation): void {
    const { id, inputs, constants, applies } = accumulation
    if (indexOf.has(id) || !applies(plant)) return
    const found = Object.values(inputs).map((input) => ({ input, index: resolve(input) }))
    const lacking = [
      ...found.filter((one) => one.index === undefined).map((one) => one.input),
      ...Object.values(constants).filter((path) => !plant.constants.has(path)),
    ]
    if (lacking.length > 0) {
      failed.set(id, sentence([lacking.map(nameOf).join(' and ')]))
      return
    }
    const slots = found.map((one) => one.index!)
    const index = nodes.length
    const description = describeAccumulated(
      accumulation,
      plant,
      slots.map((slot) => nodes[slot]!.description),
    )
    nodes.push({ kind: 'accumulated', index, description, accumulation, inputs: slots })
    indexOf.set(id, index)
  }

  function allOf(base: string): string[] {
    return nodes.map(({ description }) => description.id).filter((id) => id.startsWith(`${base}.`))
  }

  function addDerived(quantity: Quantity, way: Way, bound: Map<string, SymbolBinding>): void {
    const symbols = new Map([
      ...bound,
      ...constants.bind(way.constants),
      ...constants.bindAmounts(way.amounts),
    ])
    const functions = {
      ...curveFunctions(plant, way, constants.curve),
      ...(way.window ? windowFunctions : {}),
    }
    const expression = compileExpression(way.formula, symbols, functions)
    checkDimension(quantity, expression)
    const compiled = testCompiler({ plant, symbols, functions, constants })
    const inputs = [...new Set([...bound.values()].flatMap((binding) => binding.slots))]
    const index = nodes.length
    const description = describeDerived({
      quantity,
      way,
      plant,
      inputs: inputs.map((i) => nodes[i]!.description),
    })
    nodes.push({
      kind: 'derived',
      index,
      description,
      quantity,
      way,
      expression,
      inputs,
      doubtful: constants.doubtfulIn(way),
      symbols,
      valid: compiled(way.valid),
      limits: compiled(way.limits),
    })
    indexOf.set(quantity.id, index)
  }

  function nameOf(id: string): string {
    const family = id.replace(/\.(\*|\d+)$/, '')
    const name = byId.get(family)?.name ?? roleOf(family)?.name
    return name === undefined || id.startsWith('site.') ? `${id} in the plant file` : name.toLowerCase()
  }

  function finish(): Plan {
    const quantityOf = (id: string) => byId.get(id)
    const likely = planLikely({ plant, nodes, indexOf, quantityOf, constants, scratch })
    const column = new Float64Array(base + constants.values.length).fill(Number.NaN)
    column.set(constants.values, base)
    const missing = [...failed].flatMap(([id, needs]) =>
      needs === NOT_FOR_THIS_PLANT ? [] : [{ id, name: names.get(id)!, needs }],
    )
    return { plant, nodes, indexOf, missing, column, scratch, likely, doubtful: constants.doubtful }
  }

  return { resolve, accumulate, finish }
}

function checkDimension(quantity: Quantity, expression: Expression): void {
  const expected = unitOf(quantity.unit).dimension
  if (equal(expression.dimension, expected)) return
  throw new FormulaFault(
    `${quantity.id}: "${expression.text}" gives ${printDimension(expression.dimension)}, expected ${quantity.unit}`,
  )
}

/** Every way is for another kind of plant: nothing is missing. */
const NOT_FOR_THIS_PLANT = ''

/** "needs torque and speed, or generator.efficiencyCurve in the plant file" */
function sentence(needs: string[]): string {
  return needs.length === 0 ? NOT_FOR_THIS_PLANT : `needs ${[...new Set(needs)].join(', or ')}`
}
