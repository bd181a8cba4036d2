import type { MathNode } from 'mathjs/number'
import { greek, printFormula, printNumbers, shortNumber } from '../../derive/explain.ts'
import {
  compileExpression,
  FormulaFault,
  isNode,
  membersOf,
  type SymbolBinding,
} from '../../derive/expression.ts'
import { formulaFunctions, interpolation } from '../../derive/formulaFunctions.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { TrialResult } from '../../wire/findings.ts'
import { plain } from '../../wire/numbers.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import { unitOf } from '../../wire/units.ts'
import type { PointMethod } from '../runMethod.ts'
import type { Working } from '../workings.ts'
import { type Budget, budgetOf } from './budget.ts'

/** One point worked through: readings, every step with its numbers, and the uncertainty of the ordinate. */
export interface WorkedPoint {
  point: TrialPoint
  /** Why this one. */
  why: string
  readings: { figure: FigureDescription; own: PointFigure }[]
  steps: WorkedStep[]
  budget: Budget | undefined
}

export interface WorkedStep {
  figure: FigureDescription
  /** Formula with symbols, then with the numbers of this point in SI, then what named functions give. */
  lines: string[]
  /** What these numbers give, SI; null where a number is missing or the formula looks back in time. */
  result: number | null
  /** Mean of the figure over the window, which is what the point stores; null where it was not recorded. */
  mean: number | null
  source: string
}

/** The kept point nearest the best one, or else in the middle of the range; undefined without kept points. */
export function workPoint(
  method: PointMethod,
  points: readonly TrialPoint[],
  result: TrialResult,
): WorkedPoint | undefined {
  const { view } = method
  const kept = points.filter(
    (point) => point.verdict === 'kept' && meanOf(point, view.abscissa) !== undefined,
  )
  if (kept.length === 0) return undefined
  const x = kept.map((point) => meanOf(point, view.abscissa)!)
  const best = result.isFitted ? result.best : null
  const wanted = best?.x ?? (Math.min(...x) + Math.max(...x)) / 2
  const nearest = x.reduce(
    (found, value, i) => (Math.abs(value - wanted) < Math.abs(x[found]! - wanted) ? i : found),
    0,
  )
  const point = kept[nearest]!
  const steps = stepsOf(method, point)
  return {
    point,
    why: best ? 'the kept point nearest the best point' : 'the kept point nearest the middle of the range',
    readings: readingsOf(method, point, steps),
    steps,
    budget: budgetOf(view.ordinate, point, method),
  }
}

function meanOf(point: TrialPoint, figure: string): number | undefined {
  return figureOf(point, figure)?.mean
}

/** The figures that are measured and that the steps use, abscissa and ordinate among them. */
function readingsOf(
  method: PointMethod,
  point: TrialPoint,
  steps: readonly WorkedStep[],
): WorkedPoint['readings'] {
  const computed = new Set(steps.map(({ figure }) => figure.id))
  const used = new Set([
    ...neededBy(method),
    method.view.abscissa,
    method.view.ordinate,
    ...method.view.hold.map((one) => one.figure),
  ])
  return method.view.figures.flatMap((figure) => {
    const own = figureOf(point, figure.id)
    return own && used.has(figure.id) && !computed.has(figure.id) ? [{ figure, own }] : []
  })
}

/** What abscissa and ordinate follow from, as measured and in unit quantities. */
function neededBy({ view, workings }: PointMethod): Set<string> {
  const byFigure = new Map(workings.map((one) => [one.figure, one]))
  const found = new Set<string>()
  const visit = (figure: string | null): void => {
    if (figure === null || found.has(figure)) return
    found.add(figure)
    for (const input of Object.values(byFigure.get(figure)?.inputs ?? {}).flat()) visit(input)
  }
  for (const figure of [view.abscissa, view.ordinate, view.unitAbscissa, view.unitOrdinate]) visit(figure)
  return found
}

function stepsOf(method: PointMethod, point: TrialPoint): WorkedStep[] {
  const needed = neededBy(method)
  return method.workings
    .filter(({ figure }) => needed.has(figure))
    .flatMap((working) => {
      const figure = figureOf(method.view, working.figure)
      return figure ? [stepOf(working, figure, { method, point })] : []
    })
}

function stepOf(
  working: Working,
  figure: FigureDescription,
  { method, point }: { method: PointMethod; point: TrialPoint },
): WorkedStep {
  const base = { figure, mean: meanOf(point, figure.id) ?? null, source: inGreek(working.source) }
  const { symbols, column } = bind(working, method, point)
  const functions = curvesOf(working)
  try {
    const { tree, evaluate } = compileExpression(working.formula, symbols, functions)
    const value = evaluate(column)
    const textOf = (slot: number) => (Number.isNaN(column[slot]!) ? '?' : shortNumber(column[slot]!))
    // A constant of the plant file, or a reading under another name, needs no working.
    const isPlain = isNode(tree, 'SymbolNode')
    const calls = callsIn(tree).flatMap((call) => {
      const words = FORMULA_WORDS[call.fn.name ?? '']
      return membersOf(call, symbols).map((member) => {
        const inside = compileExpression(call.toString(), member, functions).evaluate(column)
        return `where ${printNumbers(call, member, textOf)} = ${plain(inside)}${words === undefined ? '' : ` (${words})`}`
      })
    })
    return {
      ...base,
      lines: isPlain
        ? []
        : [
            `${figure.symbol} = ${printFormula(tree, greek)}`,
            `= ${printNumbers(tree, symbols, textOf)}`,
            ...calls,
          ],
      result: Number.isFinite(value) ? value : null,
    }
  } catch (error) {
    // Formulas that look back in time (slopes, means) cannot be worked from means.
    if (!(error instanceof FormulaFault)) throw error
    return { ...base, lines: [`${figure.symbol} = ${working.formula}`], result: null }
  }
}

/** Calls of functions that say what they do by their name only. */
function callsIn(tree: MathNode): (MathNode & { fn: { name?: string } })[] {
  const found: (MathNode & { fn: { name?: string } })[] = []
  tree.traverse((node) => {
    if (isNode(node, 'FunctionNode') && !PLAIN_FUNCTIONS.has(node.fn.name ?? '')) found.push(node)
  })
  return found
}

/** Those that every reader knows. */
const PLAIN_FUNCTIONS = new Set(Object.keys(formulaFunctions))

/** "eta_d" within a sentence → "η_d". */
function inGreek(sentence: string): string {
  return sentence.replace(/\b(rho|eta|omega|lambda|phi|nu)(?=_|\b)/g, (name) => greek(name))
}

function bind(
  { inputs, constants }: Working,
  { view }: PointMethod,
  point: TrialPoint,
): { symbols: Map<string, SymbolBinding>; column: Float64Array } {
  const column: number[] = []
  const symbols = new Map<string, SymbolBinding>()
  const add = (symbol: string, values: readonly number[], unit: string) => {
    const slots = values.map((value) => column.push(value) - 1)
    symbols.set(symbol, { slots, dimension: unitOf(unit).dimension })
  }
  for (const [symbol, figures] of Object.entries(inputs)) {
    const unit = figureOf(view, figures[0])?.unit ?? '1'
    add(
      symbol,
      figures.map((figure) => meanOf(point, figure) ?? Number.NaN),
      unit,
    )
  }
  for (const [symbol, { value, unit }] of Object.entries(constants)) add(symbol, [value], unit)
  return { symbols, column: Float64Array.from(column) }
}

/** A step that calls a curve with units of its own is shown without its result. */
function curvesOf({ curves }: Working) {
  return Object.fromEntries(Object.entries(curves).map(([name, points]) => [name, interpolation(points)]))
}

/**
 * What the named functions of formulas stand for, for people who work a point by hand; the functions themselves are in
 * server/physics, each with its source. Lengths in m, discharge in m³/s, speed in rad/s, power in W.
 */
const FORMULA_WORDS: Readonly<Record<string, string>> = {
  boreArea: 'π·D²/4',
  meanVelocity: '4·Q/(π·D²)',
  reynoldsNumber: 'v·D/ν',
  darcyLoss: 'f·(L/D)·v²/(2·g)',
  minorLoss: 'K·v²/(2·g)',
  jetVelocity: 'C_v·√(2·g·H)',
  idealJetFlow: 'π/4·d²·√(2·g·H)',
  bucketSpeed: 'ω·D/2',
  unitSpeed: 'n·D/√H with n in min⁻¹',
  unitDischarge: 'Q/(D²·√H)',
  unitPower: 'P/(D²·H^1.5) with P in kW',
  waterDensityUnderHead:
    'density of air-free water by its temperature and the head above it, Tanaka et al. 2001 with its compressibility',
  waterDensityTanaka: 'density of air-free water at one atmosphere by its temperature, Tanaka et al. 2001',
  gravityIec60041: 'gravity by latitude and altitude, IEC 60041',
  standardGravity: 'standard gravity',
}
