import type { MathNode } from 'mathjs/number'
import { constantUnit } from '../plant/constants.ts'
import type { Instrument } from '../plant/plant.ts'
import type { ExplainInput, ExplainReply } from '../wire/explain.ts'
import { plain } from '../wire/numbers.ts'
import { unitOf } from '../wire/units.ts'
import {
  amountError,
  type ConstantError,
  type CurveWeight,
  constantError,
  curveError,
} from './constantUncertainty.ts'
import { curveUnit } from './curves.ts'
import type { Evaluator } from './evaluate.ts'
import { isNode, membersOf, type SymbolBinding, takesLists } from './expression.ts'
import { type AccumulatedNode, type DerivedNode, nodeOf, type Plan } from './plan.ts'
import type { Way } from './quantity.ts'

/**
 * Where a figure comes from, made from the very definition that computes it, so that the two cannot differ.
 * Undefined for a figure that the plant does not have.
 */
export function explainFigure(plan: Plan, evaluator: Evaluator, id: string): ExplainReply | undefined {
  const node = nodeOf(plan, id)
  if (!node) return undefined
  const { index } = node
  const base = {
    figure: node.description,
    value: evaluator.view(index),
    inputs: [],
    constants: [],
    uncertaintyShares: sharesOf(plan, evaluator, index),
  }
  if (node.kind === 'measured') return { ...base, instrument: describeInstrument(node.instrument) }
  if (node.kind === 'accumulated') return { ...base, ...explainAccumulated(plan, evaluator, node) }
  return {
    ...base,
    formula: {
      symbols: printFormula(node.expression.tree, (symbol) => greek(symbol)),
      numbers: withNumbers(plan, evaluator, node),
      source: node.way.source,
      valid: node.valid.map((floor) => floor.otherwise),
      ...(node.limits.length === 0 ? {} : { limits: node.limits.map(({ otherwise }) => otherwise) }),
      ...(node.way.estimated === undefined ? {} : { estimated: node.way.estimated }),
    },
    inputs: inputsOf(plan, evaluator, node),
    constants: constantsOf(plan, node.way),
  }
}

function constantsOf(
  plan: Plan,
  { constants = {}, amounts = {}, curves = {} }: Pick<Way, 'constants' | 'amounts' | 'curves'>,
): ExplainReply['constants'] {
  const fromFile = Object.entries(constants).map(([symbol, path]) => {
    const value = plan.plant.constants.get(path)!
    const unit = constantUnit(path)
    return { symbol: greek(symbol), path, value, unit, ...errorWords(constantError(plan.plant, path), unit) }
  })
  const beside = Object.entries(amounts).map(([symbol, amount]) => {
    const { value, unit, path } = amount
    return { symbol: greek(symbol), value, unit, path, ...errorWords(amountError(amount), unit) }
  })
  const drawn = Object.entries(curves).map(([symbol, path]) => {
    const found = curveError(plan.plant, path)
    const words = found && curveWords(found.error.half, found.weight, curveUnit(path))
    return {
      symbol,
      path,
      value: null,
      unit: curveUnit(path),
      ...(found && words !== undefined ? { plusMinus: words, ...assumedBy(found.error) } : {}),
    }
  })
  return [...fromFile, ...beside, ...drawn]
}

function errorWords(
  error: ConstantError | undefined,
  unit: string,
): Pick<ExplainReply['constants'][number], 'plusMinus' | 'assumed'> {
  if (!error) return {}
  const half = `± ${Number(error.half.toPrecision(3))} ${unitOf(unit).print}`.trim()
  return { plusMinus: `${half}${error.isRectangular ? '' : ' (95 %)'}`, ...assumedBy(error) }
}

function assumedBy({ assumed }: { assumed?: string | undefined }): { assumed?: string } {
  return assumed === undefined ? {} : { assumed }
}

function curveWords(half: number, weight: CurveWeight, unit: string): string {
  if (weight === 'fixed') return `± ${Number(half.toPrecision(3))} ${unitOf(unit).print}`.trim()
  return `± ${percent(half)} of ${weight === 'share' ? 'its values' : 'the losses'}`
}

/** No numbers: what it stands at follows from the past. */
function explainAccumulated(
  plan: Plan,
  evaluator: Evaluator,
  { accumulation, inputs }: AccumulatedNode,
): Pick<ExplainReply, 'formula' | 'inputs' | 'constants'> {
  const { formula, source, method } = accumulation
  return {
    formula: { symbols: formula.replaceAll('eta', 'η'), numbers: null, source, valid: [method] },
    inputs: Object.keys(accumulation.inputs).map((symbol, i) =>
      inputOf(plan, evaluator, [symbol, inputs[i]!]),
    ),
    constants: constantsOf(plan, { constants: accumulation.constants }),
  }
}

function inputsOf(plan: Plan, evaluator: Evaluator, node: DerivedNode): ExplainInput[] {
  return Object.keys(node.way.inputs).flatMap((symbol) =>
    node.symbols.get(symbol)!.slots.map((slot) => inputOf(plan, evaluator, [symbol, slot])),
  )
}

function inputOf(plan: Plan, evaluator: Evaluator, [symbol, slot]: [string, number]): ExplainInput {
  return { symbol: greek(symbol), figure: plan.nodes[slot]!.description, value: evaluator.view(slot) }
}

/** The formula with SI values in place of symbols; null while any input has no value. */
function withNumbers(plan: Plan, evaluator: Evaluator, node: DerivedNode): string | null {
  const numberOf = (slot: number) =>
    slot < plan.nodes.length && plan.nodes[slot] ? evaluator.value(slot) : plan.column[slot]!
  const slots = [...node.symbols.values()].flatMap((binding) => binding.slots)
  if (slots.some((slot) => Number.isNaN(numberOf(slot)))) return null
  return printNumbers(node.expression.tree, node.symbols, (slot) => shortNumber(numberOf(slot)))
}

function sharesOf(plan: Plan, evaluator: Evaluator, index: number): ExplainReply['uncertaintyShares'] {
  const { instruments } = plan.plant
  return evaluator
    .shares(index)
    .map((share, leaf) => {
      if (leaf < instruments.length) {
        const { id, name, assumed } = instruments[leaf]!
        return { share, kind: 'instrument' as const, source: id, name, ...assumedBy({ assumed }) }
      }
      const { path, error } = plan.doubtful[leaf - instruments.length]!
      return { share, kind: 'constant' as const, source: path, name: path, ...assumedBy(error) }
    })
    .filter(({ share }) => share > 0.0005)
    .sort((a, b) => b.share - a.share)
}

function describeInstrument(instrument: Instrument): NonNullable<ExplainReply['instrument']> {
  const { id, name, topic, unit, range } = instrument
  return {
    id,
    name,
    topic,
    unit: unit.code,
    ...(range ? { range: [range[0], range[1]] as [number, number] } : {}),
    accuracy: accuracyWords(instrument),
  }
}

/** An instrument's limits of error in words, e.g. "± 1 % of reading, ± 0.2 % of span". */
export function accuracyWords({ accuracy, unit, assumed }: Instrument): string {
  const parts = [
    accuracy?.reading === undefined ? '' : `± ${percent(accuracy.reading)} of reading`,
    accuracy?.span === undefined ? '' : `± ${percent(accuracy.span)} of span`,
    accuracy?.absolute === undefined ? '' : `± ${plain(accuracy.absolute, 3)} ${unit.print}`,
    accuracy?.calibration === undefined ? '' : `calibrated together: ${accuracy.calibration}`,
    accuracy?.resolution === undefined ? '' : `steps of ${accuracy.resolution} ${unit.print}`,
  ].filter((part) => part !== '')
  if (parts.length === 0) return 'not stated in the plant file'
  return assumed === undefined ? parts.join(', ') : `${parts.join(', ')} (assumed: ${assumed})`
}

function percent(share: number): string {
  return `${Number((share * 100).toPrecision(4))} %`
}

/** Five significant digits; negative ones in brackets, to stand in a formula. */
export function shortNumber(value: number): string {
  const text = Number(value.toPrecision(5)).toString()
  return value < 0 ? `(${text})` : text
}

/** A formula with numbers for its symbols; where a function takes a list, with those of all its members. */
export function printNumbers(
  tree: MathNode,
  symbols: ReadonlyMap<string, SymbolBinding>,
  textOf: (slot: number) => string,
): string {
  const print = (node: MathNode, single: typeof symbols): string =>
    printFormula(
      node,
      (symbol) => single.get(symbol)?.slots.map(textOf).join(', ') ?? greek(symbol),
      (arg, name) =>
        (takesLists(name) ? membersOf(arg, symbols) : [single]).map((member) => print(arg, member)),
    )
  return print(tree, symbols)
}

/** A formula as people read it, with whatever stands for its symbols and for the arguments of its functions. */
export function printFormula(
  tree: MathNode,
  nameOfSymbol: (symbol: string) => string,
  argument = (arg: MathNode, _of: string): string[] => [printFormula(arg, nameOfSymbol)],
): string {
  return tree
    .toString({
      parenthesis: 'keep',
      handler: (node: MathNode): string | undefined => {
        if (isNode(node, 'SymbolNode')) return nameOfSymbol(node.name)
        if (isNode(node, 'FunctionNode'))
          return `${node.fn.name ?? ''}(${node.args.flatMap((arg) => argument(arg, node.fn.name ?? '')).join(', ')})`
        return undefined
      },
    })
    .replaceAll(' * ', ' · ')
    .replaceAll(' ^ 2', '²')
    .replaceAll(' - ', ' − ')
}

const GREEK: Record<string, string> = {
  rho: 'ρ',
  eta: 'η',
  omega: 'ω',
  lambda: 'λ',
  phi: 'φ',
  nu: 'ν',
  pi: 'π',
}

/** "eta_d" → "η_d" */
export function greek(symbol: string): string {
  const [head, ...rest] = symbol.split('_')
  return [GREEK[head!] ?? head, ...rest].join('_')
}
