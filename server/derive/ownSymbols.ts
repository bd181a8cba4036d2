import { constantPaths, constantUnit } from '../plant/constants.ts'
import { readAmount } from '../plant/measures.ts'
import { readHalfOf, splitPlusMinus } from '../plant/plusMinus.ts'
import type { OwnFigureFile } from '../plant/schema.ts'
import { siUnitOf, unitOf } from '../wire/units.ts'
import { type FormulaFault, isNode, type MathNode, parseFormula, type SymbolBinding } from './expression.ts'
import type { Amount } from './quantity.ts'

/** What the symbols of an own figure's formula and tests stand for. */
export interface OwnSymbols {
  inputs: Record<string, string>
  constants: Record<string, string>
  amounts: Record<string, Amount>
  /** With made-up slots: good for checking units, before anything is known to be there. */
  bindings: Map<string, SymbolBinding>
}

export interface KnownFigures {
  /** UCUM code of the SI unit of a figure that some plant can have; undefined for an id that exists nowhere. */
  unitOf(id: string): string | undefined
  /** The same for a list such as "jetOpen" of "jetOpen.*". */
  listUnitOf(family: string): string | undefined
  /** For suggestions. */
  ids: readonly string[]
}

interface Task {
  file: OwnFigureFile
  known: KnownFigures
  /** e.g. "figures[2]". */
  place: string
  report: (path: string, received: string, expected: string) => void
}

/** Deeper nesting than this is no formula that anybody reads. */
const DEEPEST = 40

/** Undefined when some symbol stands for nothing; every such symbol is reported. */
export function bindOwnSymbols(task: Task): OwnSymbols | undefined {
  const { file, report } = task
  const texts = [
    { text: file.formula, path: '.formula' },
    ...file.valid.map((floor, i) => ({ text: floor.test, path: `.valid[${i}].test` })),
  ]
  const used = texts.map(({ text, path }) => symbolsOf(text, (...fault) => report(path, ...fault)))
  if (used.some((names) => names === undefined)) return undefined
  const symbols: OwnSymbols = { inputs: {}, constants: {}, amounts: {}, bindings: new Map() }
  let isComplete = checkGiven(task, new Set(used.flatMap((names) => [...names!])))
  used.forEach((names, i) => {
    for (const name of names!) if (!bindOne({ task, symbols, name, path: texts[i]!.path })) isComplete = false
  })
  return isComplete ? symbols : undefined
}

/** Names of all symbols but those of functions; undefined where the text is no formula. */
function symbolsOf(
  text: string,
  report: (received: string, expected: string) => void,
): Set<string> | undefined {
  let tree: MathNode
  try {
    tree = parseFormula(text)
  } catch (error) {
    report((error as FormulaFault).message, 'a formula')
    return undefined
  }
  const names = new Set<string>()
  const depth = visit(tree, names)
  if (depth <= DEEPEST) return names
  report(`${depth} levels of brackets and operators`, `at most ${DEEPEST}`)
  return undefined
}

function visit(node: MathNode, names: Set<string>): number {
  if (isNode(node, 'SymbolNode')) names.add(node.name)
  let deepest = 0
  node.forEach((child, path) => {
    if (path !== 'fn') deepest = Math.max(deepest, visit(child, names))
  })
  return deepest + 1
}

/** What is given but not used is a slip of the pen in one of the two places. */
function checkGiven({ file, report }: Task, used: ReadonlySet<string>): boolean {
  const given = [
    ...Object.keys(file.inputs).map((name) => ({ name, path: `.inputs.${name}` })),
    ...Object.keys(file.constants).map((name) => ({ name, path: `.constants.${name}` })),
  ]
  const unused = given.filter(({ name }) => !used.has(name))
  for (const { name, path } of unused) report(path, `"${name}"`, 'a symbol that the formula uses')
  const twice = Object.keys(file.inputs).filter((name) => Object.hasOwn(file.constants, name))
  for (const name of twice) report(`.constants.${name}`, `"${name}"`, 'a symbol that is not an input as well')
  return unused.length === 0 && twice.length === 0
}

interface Binding {
  task: Task
  symbols: OwnSymbols
  name: string
  /** Of the text that uses it. */
  path: string
}

function bindOne({ task, symbols, name, path }: Binding): boolean {
  if (symbols.bindings.has(name)) return true
  const { file } = task
  if (Object.hasOwn(file.constants, name)) return bindConstant(task, symbols, name)
  if (Object.hasOwn(file.inputs, name)) return bindInput(task, symbols, name)
  if (name === 'pi') return true
  const unit = task.known.unitOf(name)
  if (unit === undefined) {
    task.report(
      path,
      `the symbol "${name}"`,
      `an input, a constant or a figure: ${nearest(name, task.known)}`,
    )
    return false
  }
  symbols.inputs[name] = name
  symbols.bindings.set(name, { slots: [0], dimension: unitOf(unit).dimension })
  return true
}

function bindInput({ file, known, report }: Task, symbols: OwnSymbols, name: string): boolean {
  const id = file.inputs[name]!
  const family = id.endsWith('.*') ? id.slice(0, -2) : undefined
  const unit = family === undefined ? known.unitOf(id) : known.listUnitOf(family)
  if (unit === undefined) {
    report(`.inputs.${name}`, `"${id}"`, `a figure: ${nearest(id, known)}`)
    return false
  }
  symbols.inputs[name] = id
  // Two slots make it a list, which a formula can only use as sum(…), max(…) and so on.
  symbols.bindings.set(name, {
    slots: family === undefined ? [0] : [0, 1],
    dimension: unitOf(unit).dimension,
  })
  return true
}

function bindConstant({ file, place, report }: Task, symbols: OwnSymbols, name: string): boolean {
  const raw = file.constants[name]!
  const text = String(raw).trim()
  if (constantPaths.includes(text)) {
    symbols.constants[name] = text
    symbols.bindings.set(name, { slots: [0], dimension: unitOf(constantUnit(text)).dimension })
    return true
  }
  const split = splitPlusMinus(text)
  const written = split?.amount ?? text
  const amount = readAmount(written)
  if ('expected' in amount || !Number.isFinite(amount.si)) {
    const section = text.split('.')[0]!
    const alike = constantPaths.filter((path) => path.startsWith(`${section}.`))
    const paths = alike.length > 0 ? alike.join(', ') : 'such as "turbine.pitchDiameter"'
    report(`.constants.${name}`, `"${text}"`, `an amount with a unit such as "0.35 m3", or a path: ${paths}`)
    return false
  }
  const unit = siUnitOf(amount.unit)
  const half = split ? readHalfOf(written, split.plusMinus, unit) : undefined
  if (half && 'expected' in half) {
    report(`.constants.${name}`, `"${text}"`, half.expected)
    return false
  }
  const fixed = half && (half.isShare ? half.half * Math.abs(amount.si) : half.half)
  symbols.amounts[name] = {
    value: amount.si,
    unit: unit.code,
    path: `${place}.constants.${name}`,
    ...(fixed === undefined ? {} : { plusMinus: { fixed } }),
  }
  symbols.bindings.set(name, { slots: [0], dimension: unit.dimension })
  return true
}

/** Ids that share the most beginning letters first. */
function nearest(text: string, { ids }: KnownFigures): string {
  const lower = text.toLowerCase()
  const score = (id: string) => {
    const shared = [...id.toLowerCase()].findIndex((letter, i) => letter !== lower[i])
    return shared === -1 ? id.length : shared
  }
  return [...ids]
    .sort((a, b) => score(b) - score(a))
    .slice(0, 6)
    .join(', ')
    .concat(', …')
}
