import { create, type MathNode, parseDependencies } from 'mathjs/number'
import type { Dimension } from '../wire/units.ts'
import { combine, equal, isPlain, printDimension, scale } from './dimensions.ts'
import { type FormulaFunction, formulaFunctions } from './formulaFunctions.ts'
import { physicalFunctions } from './physicalFunctions.ts'

/**
 * Formulas as text: parsed once by mathjs, checked for units, then turned into closures over a column of
 * numbers, so that what is shown to people is what computes. No eval.
 */

const { parse } = create(parseDependencies!)

/** What a symbol of a formula stands for: one slot of the column, or several for a list such as all jets. */
export interface SymbolBinding {
  slots: readonly number[]
  dimension: Dimension
  /** A list even where it has one member only. */
  isList?: boolean
}

export interface Expression {
  text: string
  dimension: Dimension
  /** True for a comparison such as "Q > 0.1 * Q_r". */
  isCondition: boolean
  evaluate(column: Float64Array): number
  tree: MathNode
}

/** A formula that cannot be computed: unknown symbol, units that do not add up, syntax. */
export class FormulaFault extends Error {
  override name = 'FormulaFault'
}

/** Lists that go together, such as voltages and currents of the phases, are not of one length. */
export class ListFault extends FormulaFault {
  override name = 'ListFault'
}

export type { MathNode }

type Run = (column: Float64Array) => number
interface Part {
  run: Run
  dimension: Dimension
  condition?: true
  /** A literal 0, which compares with and adds to anything. */
  zero?: true
}

interface Scope {
  symbols: ReadonlyMap<string, SymbolBinding>
  /** Within one member of lists: the lists as a whole, for mean(U) in sum((U - mean(U)) ^ 2). */
  lists?: ReadonlyMap<string, SymbolBinding>
  functions: Readonly<Record<string, FormulaFunction>>
}

const NONE: Dimension = [0, 0, 0, 0, 0]
const CONSTANTS: Record<string, number> = { pi: Math.PI }
const BUILT_IN: Readonly<Record<string, FormulaFunction>> = { ...formulaFunctions, ...physicalFunctions }

/** @throws {FormulaFault} with the place and what was expected. */
export function compileExpression(
  text: string,
  symbols: ReadonlyMap<string, SymbolBinding>,
  functions: Readonly<Record<string, FormulaFunction>> = {},
): Expression {
  const tree = parseFormula(text)
  const part = build(tree, {
    symbols,
    functions: { ...BUILT_IN, ...functions },
  })
  return {
    text,
    tree,
    dimension: part.dimension,
    isCondition: part.condition === true,
    evaluate: part.run,
  }
}

/** @throws {FormulaFault} where it is no formula. */
export function parseFormula(text: string): MathNode {
  try {
    return parse(text)
  } catch (error) {
    throw new FormulaFault(`"${text}": ${error instanceof Error ? error.message : String(error)}`)
  }
}

function build(node: MathNode, scope: Scope): Part {
  const one = (child: MathNode) => build(child, scope)
  if (isNode(node, 'ParenthesisNode')) return one(node.content)
  if (isNode(node, 'ConstantNode')) return constant(node)
  if (isNode(node, 'SymbolNode')) return symbol(node.name, scope.symbols)
  if (isNode(node, 'OperatorNode')) return operator(node, node.args.map(one))
  if (isNode(node, 'FunctionNode')) return call(node, scope)
  if (isNode(node, 'ConditionalNode'))
    return choose(one(node.condition), one(node.trueExpr), one(node.falseExpr))
  throw new FormulaFault(`"${node.toString()}" is not allowed in a formula (${node.type})`)
}

interface NodeShapes {
  ParenthesisNode: { content: MathNode }
  ConstantNode: { value: unknown }
  SymbolNode: { name: string }
  OperatorNode: { fn: string; args: MathNode[] }
  FunctionNode: { fn: MathNode & { name?: string }; args: MathNode[] }
  ConditionalNode: { condition: MathNode; trueExpr: MathNode; falseExpr: MathNode }
}

/** mathjs types its nodes loosely; this narrows by the type tag that every node carries. */
export function isNode<T extends keyof NodeShapes>(
  node: MathNode,
  type: T,
): node is MathNode & NodeShapes[T] {
  return node.type === type
}

function constant(node: { value: unknown }): Part {
  const value = node.value
  if (typeof value !== 'number') throw new FormulaFault(`${JSON.stringify(value)} is not a number`)
  return { run: () => value, dimension: NONE, ...(value === 0 ? { zero: true as const } : {}) }
}

function symbol(name: string, symbols: ReadonlyMap<string, SymbolBinding>): Part {
  const binding = symbols.get(name)
  const known = Object.hasOwn(CONSTANTS, name) ? CONSTANTS[name] : undefined
  if (!binding && known !== undefined) return { run: () => known, dimension: NONE }
  if (!binding)
    throw new FormulaFault(`symbol "${name}" is not one of the inputs (${[...symbols.keys()].join(', ')})`)
  if (binding.slots.length !== 1)
    throw new FormulaFault(`"${name}" is a list: use it as sum(${name}), max(${name}) …`)
  const slot = binding.slots[0]!
  return { run: (column) => column[slot]!, dimension: binding.dimension }
}

function operator(node: MathNode & NodeShapes['OperatorNode'], [a, b]: Part[]): Part {
  if (a === undefined) throw new FormulaFault(`"${node.toString()}": operator without operands`)
  if (b === undefined) return unary(node, a)
  const x = a.run
  const y = b.run
  switch (node.fn) {
    case 'add':
      return { run: (c) => x(c) + y(c), dimension: same(node, a, b) }
    case 'subtract':
      return { run: (c) => x(c) - y(c), dimension: same(node, a, b) }
    case 'multiply':
      return { run: (c) => x(c) * y(c), dimension: combine(a.dimension, b.dimension, 1) }
    case 'divide':
      return { run: (c) => x(c) / y(c), dimension: combine(a.dimension, b.dimension, -1) }
    case 'pow':
      return power(node, a, b)
    default:
      return comparison(node, a, b)
  }
}

function unary(node: MathNode & NodeShapes['OperatorNode'], a: Part): Part {
  const x = a.run
  if (node.fn === 'unaryMinus') return { run: (c) => -x(c), dimension: a.dimension }
  if (node.fn === 'unaryPlus') return a
  if (node.fn === 'not') return { run: (c) => (x(c) === 0 ? 1 : 0), dimension: NONE, condition: true }
  throw new FormulaFault(`"${node.toString()}": operator is not allowed in a formula`)
}

function comparison(node: MathNode & NodeShapes['OperatorNode'], a: Part, b: Part): Part {
  const x = a.run
  const y = b.run
  const tests: Record<string, Run> = {
    larger: (c) => +(x(c) > y(c)),
    largerEq: (c) => +(x(c) >= y(c)),
    smaller: (c) => +(x(c) < y(c)),
    smallerEq: (c) => +(x(c) <= y(c)),
    equal: (c) => +(x(c) === y(c)),
    unequal: (c) => +(x(c) !== y(c)),
    and: (c) => +(x(c) !== 0 && y(c) !== 0),
    or: (c) => +(x(c) !== 0 || y(c) !== 0),
  }
  const run = tests[node.fn]
  if (!run) throw new FormulaFault(`"${node.toString()}": operator is not allowed in a formula`)
  if (node.fn !== 'and' && node.fn !== 'or') same(node, a, b)
  return { run, dimension: NONE, condition: true }
}

function power(node: MathNode & NodeShapes['OperatorNode'], a: Part, b: Part): Part {
  if (!isPlain(b.dimension)) throw new FormulaFault(`"${node.toString()}": an exponent must have no unit`)
  const x = a.run
  const y = b.run
  const exponent = isPlain(a.dimension) ? 0 : fixedValue(node, node.args[1]!)
  return { run: (c) => x(c) ** y(c), dimension: scale(a.dimension, exponent) }
}

/** An exponent on something with a unit has to be a number written out, or the unit would change with it. */
function fixedValue(node: MathNode, exponent: MathNode): number {
  const inner = isNode(exponent, 'ParenthesisNode') ? exponent.content : exponent
  const value = Number(inner.toString())
  if (!Number.isFinite(value))
    throw new FormulaFault(`"${node.toString()}": the exponent must be written as a number`)
  return value
}

function choose(test: Part, yes: Part, no: Part): Part {
  if (!yes.zero && !no.zero && !equal(yes.dimension, no.dimension))
    throw new FormulaFault('both branches of "? :" must have the same unit')
  const dimension = yes.zero ? no.dimension : yes.dimension
  return { run: (c) => (test.run(c) !== 0 ? yes.run(c) : no.run(c)), dimension }
}

function call(node: MathNode & NodeShapes['FunctionNode'], scope: Scope): Part {
  const name = node.fn.name ?? node.fn.toString()
  const entry = Object.hasOwn(scope.functions, name) ? scope.functions[name] : undefined
  if (!entry) {
    const known = Object.keys(scope.functions).sort().join(', ')
    throw new FormulaFault(`function "${name}" is not known (${known})`)
  }
  const parts = node.args.flatMap((child) =>
    takesLists(name) ? members(child, scope) : [build(child, scope)],
  )
  const dimension = entry.dimension(parts.map((part) => part.dimension))
  if (typeof dimension === 'string') throw new FormulaFault(`"${node.toString()}": ${dimension}`)
  const fault = entry.fault?.(node.args.map((child) => Number(child.toString())))
  if (fault !== undefined) throw new FormulaFault(`"${node.toString()}": ${fault}`)
  const run = caller(
    entry.run,
    parts.map((part) => part.run),
  )
  if (!entry.error) return { run, dimension }
  const { slot, move } = entry.error
  return { run: (column) => move(run(column), column[slot]!), dimension }
}

function caller(run: (...values: number[]) => number, args: Run[]): Run {
  const [a, b, c] = args
  if (args.length === 1) return (column) => run(a!(column))
  if (args.length === 2) return (column) => run(a!(column), b!(column))
  if (args.length === 3) return (column) => run(a!(column), b!(column), c!(column))
  return (column) => run(...args.map((arg) => arg(column)))
}

/**
 * An argument that has lists in it stands for all their members: sum(s) is s₁ + s₂ + …, sum(nozzle(s)) is
 * nozzle(s₁) + nozzle(s₂) + …, and lists go side by side in sum(U * I).
 */
function members(node: MathNode, scope: Scope): Part[] {
  const lists = scope.lists ?? scope.symbols
  return membersOf(node, lists).map((symbols) => build(node, { ...scope, symbols, lists }))
}

/**
 * The symbols for each member of the lists in a formula; its own where it has no list.
 *
 * @throws {ListFault} where lists in it are not of one length.
 */
export function membersOf(node: MathNode, symbols: Scope['symbols']): Scope['symbols'][] {
  const lists = [...new Set(listsIn(node, symbols))]
  const [first, ...others] = lists.map((name) => symbols.get(name)!.slots.length)
  if (first === undefined) return [symbols]
  if (others.some((length) => length !== first))
    throw new ListFault(`as many of one as of the other in "${node.toString()}"`)
  return Array.from({ length: first }, (_, k) => {
    const single = lists.map((name): [string, SymbolBinding] => {
      const { slots, dimension } = symbols.get(name)!
      return [name, { slots: [slots[k]!], dimension }]
    })
    return new Map([...symbols, ...single])
  })
}

/** But not those that a function such as sum makes one number of. */
function listsIn(node: MathNode, symbols: Scope['symbols']): string[] {
  if (isNode(node, 'SymbolNode')) {
    const binding = symbols.get(node.name)
    return binding && (binding.isList || binding.slots.length > 1) ? [node.name] : []
  }
  if (isNode(node, 'FunctionNode') && takesLists(node.fn.name ?? '')) return []
  const found: string[] = []
  node.forEach((child, path) => {
    if (path !== 'fn') found.push(...listsIn(child, symbols))
  })
  return found
}

/** Whether a function makes one number of a list, as sum does. */
export function takesLists(name: string): boolean {
  return Object.hasOwn(BUILT_IN, name) && BUILT_IN[name]!.ofLists === true
}

function same(node: MathNode, a: Part, b: Part): Dimension {
  if (b.zero || equal(a.dimension, b.dimension)) return a.dimension
  if (a.zero) return b.dimension
  throw new FormulaFault(
    `"${node.toString()}" puts ${printDimension(a.dimension)} and ${printDimension(b.dimension)} together`,
  )
}
