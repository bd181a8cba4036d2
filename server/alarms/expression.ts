import { compileExpression, type Expression, FormulaFault, type SymbolBinding } from '../derive/expression.ts'
import { type FormulaFunction, interpolation } from '../derive/formulaFunctions.ts'
import type { FigureLookupById } from '../derive/lookup.ts'
import { constantUnit } from '../plant/constants.ts'
import type { Plant } from '../plant/plant.ts'
import { type FigureDescription, isTemperatureDifference } from '../wire/figure.ts'
import type { MachineState } from '../wire/plant.ts'
import { findUnit, unitOf } from '../wire/units.ts'
import { inKelvin } from './celsius.ts'

/**
 * Expressions in alarms, e.g. "running and discharge > 0.5 * turbine_ratedDischarge" or "2 * pi * frequency / 2".
 * Symbols are figures and numbers of the plant file with "." written "_" (bearingTemperature_1,
 * generator_ratedPower), units ("activePower > 5 kW", "waterTemperature > 4 Cel"), and the words running (makes power, or is in over-speed),
 * turning, motoring, starting and stopped.
 */
export interface PlantExpression {
  expression: Expression
  /** Figures whose values it needs. */
  uses: readonly string[]
  /** Fills a column and computes. NaN while a figure that is used cannot be given. */
  evaluate(figures: Pick<FigureLookupById, 'value'>, state: MachineState): number
}

const NONE = [0, 0, 0, 0, 0] as const
const UNITS = ['W', 'kW', 'V', 'A', 'Hz', 'kHz', 'm', 'mm', 'Pa', 'bar', 'kPa', 's', 'h', 'K'] as const
/** Of each word, whether it holds in a state; undefined where that state leaves it open. */
const STATE_WORDS: Record<string, (state: MachineState) => boolean | undefined> = {
  running: (state) => (state === 'turning' ? undefined : state === 'generating' || state === 'overSpeed'),
  turning: (state) => state !== 'stopped',
  motoring: (state) => (state === 'turning' ? undefined : state === 'motoring'),
  starting: (state) => (state === 'turning' ? undefined : state === 'starting'),
  stopped: (state) => state === 'stopped',
}

/** A word of its own that is a condition, e.g. "running". */
export function isStateWord(text: string): boolean {
  return Object.hasOwn(STATE_WORDS, text)
}

type Source = Input & { isTemperature?: boolean }
type Input =
  | { figure: string }
  | { constant: number }
  | { state: (state: MachineState) => boolean | undefined }

/** @throws {FormulaFault} with the place and what was expected. */
export function compilePlantExpression(
  text: string,
  {
    plant,
    figures,
    curve,
  }: { plant: Plant; figures: readonly FigureDescription[]; curve?: [number, number][] },
): PlantExpression {
  const { bindings, sources } = symbolsOf(plant, figures)
  const curves = curvesOf(plant, curve)
  const shareOf = (side: string) => temperatureShare(compileExpression(side, bindings, curves), sources)
  const written = inKelvin(text, shareOf)
  if ('fault' in written) throw new FormulaFault(written.fault)
  const expression = compileExpression(written.text, bindings, curves)
  const slots = slotsOf(expression, bindings)
  const column = new Float64Array(sources.length)
  slots.forEach((slot) => {
    const source = sources[slot]!
    if ('constant' in source) column[slot] = source.constant
  })
  const live = slots.filter((slot) => !('constant' in sources[slot]!))
  return {
    expression,
    uses: live.flatMap((slot) => {
      const source = sources[slot]!
      return 'figure' in source ? [source.figure] : []
    }),
    evaluate(values, state) {
      for (const slot of live) {
        const value = read(sources[slot]!, values, state)
        // A comparison with NaN is false: without this a lost input would read as "does not hold".
        if (Number.isNaN(value)) return Number.NaN
        column[slot] = value
      }
      return expression.evaluate(column)
    },
  }
}

/** By how much it rises where every temperature rises by 1 K: by 1 when it is one, by 0 when it is a difference. */
function temperatureShare(side: Expression, sources: readonly Source[]): number {
  const at = (kelvin: number) =>
    side.evaluate(Float64Array.from(sources, (source) => (source.isTemperature ? kelvin : 1)))
  return Number((at(301) - at(300)).toFixed(6))
}

function read(source: Source, values: Pick<FigureLookupById, 'value'>, state: MachineState): number {
  if ('figure' in source) return values.value(source.figure)
  if ('constant' in source) return source.constant
  const holds = state === 'unknown' ? undefined : source.state(state)
  return holds === undefined ? Number.NaN : Number(holds)
}

function symbolsOf(plant: Plant, figures: readonly FigureDescription[]) {
  const bindings = new Map<string, SymbolBinding>()
  const sources: Source[] = []
  const bind = (name: string, dimension: SymbolBinding['dimension'], source: Source) => {
    bindings.set(name, { slots: [sources.push(source) - 1], dimension })
  }
  for (const code of UNITS) {
    const unit = findUnit(code)
    if (unit) bind(code, unit.dimension, { constant: unit.factor })
  }
  for (const [path, constant] of plant.constants)
    bind(path.replaceAll('.', '_'), unitOf(constantUnit(path)).dimension, {
      constant,
      isTemperature: constantUnit(path) === 'K',
    })
  for (const figure of figures)
    bind(figure.id.replaceAll('.', '_'), unitOf(figure.unit).dimension, {
      figure: figure.id,
      isTemperature: figure.unit === 'K' && !isTemperatureDifference(figure),
    })
  for (const [word, state] of Object.entries(STATE_WORDS)) bind(word, NONE, { state })
  return { bindings, sources }
}

function curvesOf(plant: Plant, curve: [number, number][] | undefined): Record<string, FormulaFunction> {
  const curves = {
    curve,
    turbineCurve: plant.turbine?.efficiencyCurve,
    generatorCurve: plant.generator?.efficiencyCurve,
  }
  return Object.fromEntries(
    Object.entries(curves).flatMap(([name, points]) => (points ? [[name, interpolation(points)]] : [])),
  )
}

function slotsOf({ tree }: Expression, bindings: ReadonlyMap<string, SymbolBinding>): number[] {
  const slots = new Set<number>()
  tree.traverse((node) => {
    const name = 'name' in node && typeof node.name === 'string' ? node.name : undefined
    for (const slot of (name === undefined ? undefined : bindings.get(name))?.slots ?? []) slots.add(slot)
  })
  return [...slots]
}
