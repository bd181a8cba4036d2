import { constantUnit } from '../plant/constants.ts'
import { readAmount } from '../plant/measures.ts'
import type { Plant } from '../plant/plant.ts'
import { roleOf } from '../plant/roles.ts'
import type { OwnFigureFile } from '../plant/schema.ts'
import { findUnit, unitOf } from '../wire/units.ts'
import { equal } from './dimensions.ts'
import { compileExpression, FormulaFault, type SymbolBinding } from './expression.ts'
import { bindOwnSymbols, type KnownFigures, type OwnSymbols } from './ownSymbols.ts'
import { quantities } from './quantities/index.ts'

/** What a formula in K gives. Neither: it rises by something else than 1 K or 0 K where every temperature rises by 1 K. */
export type TemperatureKind = 'temperature' | 'difference' | 'neither'

/** What a symbol in a formula is; an amount in K may be either a temperature or a difference. */
type Slot = 'temperature' | 'difference' | 'either' | 'else'

export interface TemperatureQuestion {
  file: Pick<OwnFigureFile, 'formula' | 'inputs' | 'constants'>
  symbols: OwnSymbols
  isTemperature: IsTemperature
}

/** Whether a figure, or the members of a list such as "bearingTemperature.*", are temperatures. */
export type IsTemperature = (figure: string) => boolean

/** By the role, by the unit that it is sent or read in, and of an own figure by its formula. */
export function temperaturesOf(plant: Plant, known: KnownFigures): IsTemperature {
  const told = new Map<string, boolean>()

  function isTemperature(id: string): boolean {
    const before = told.get(id)
    if (before !== undefined) return before
    const file = plant.figures.find((one) => one.id === id)
    // what needs itself in a circle, and so is refused, is here what it says it is
    told.set(id, file ? hasOwnZero(file.view ?? file.unit) : isRead(id, plant))
    const kind = file ? kindOfOwn(file) : undefined
    if (kind !== undefined) told.set(id, kind === 'temperature')
    return told.get(id)!
  }

  function kindOfOwn(file: OwnFigureFile): TemperatureKind | undefined {
    const symbols = bindOwnSymbols({ file, known, place: '', report: () => {} })
    if (!symbols) return undefined
    try {
      return temperatureKind({ file, symbols, isTemperature })
    } catch (error) {
      if (error instanceof FormulaFault) return undefined
      throw error
    }
  }

  return isTemperature
}

/** "Cel" or "[degF]": an amount in it is a temperature, never a difference. */
function hasOwnZero(code: string): boolean {
  return (findUnit(code)?.offset ?? 0) !== 0
}

function isRead(id: string, { instruments }: Plant): boolean {
  const measured = instruments.find((one) => one.quantity === id)
  if (measured && !measured.role) return hasOwnZero(measured.unit.code)
  const derived = quantities.find((quantity) => quantity.id === id)
  return roleOf(id)?.unit === 'K' || (derived?.unit === 'K' && derived.view === 'Cel')
}

/**
 * Whether a formula is a temperature or a difference of two, by how far it rises where every temperature in it
 * rises by 1 K: (T₁ + T₂)/2 by 1 K, T₁ − T₂ by 0 K. Undefined where the formula does not tell: neither is in it, or an
 * amount in K could be either ("T - 283.15 K"); then the unit that is written says what it is.
 */
export function temperatureKind(question: TemperatureQuestion): TemperatureKind | undefined {
  const slots: Slot[] = []
  const bindings = new Map<string, SymbolBinding>()
  for (const [name, { slots: made, dimension }] of question.symbols.bindings) {
    const slot = slotOf(name, question)
    bindings.set(name, { dimension, slots: made.map(() => slots.push(slot) - 1) })
  }
  if (!slots.includes('temperature') && !slots.includes('difference')) return undefined
  const { evaluate } = compileExpression(question.file.formula, bindings)
  const [asDifference, asTemperature] = [['temperature'], ['temperature', 'either']].map((rising) => {
    const at = (kelvin: number) =>
      evaluate(Float64Array.from(slots, (slot) => (rising.includes(slot) ? kelvin : 1)))
    return kindOfRise(at(301) - at(300))
  })
  return asDifference === asTemperature ? asDifference : undefined
}

function slotOf(name: string, { file, symbols, isTemperature }: TemperatureQuestion): Slot {
  const figure = symbols.inputs[name]
  const isInKelvin = equal(symbols.bindings.get(name)!.dimension, unitOf('K').dimension)
  if (figure !== undefined && isInKelvin) return isTemperature(figure) ? 'temperature' : 'difference'
  if (figure !== undefined) return 'else'
  const path = symbols.constants[name]
  if (path !== undefined) return constantUnit(path) === 'K' ? 'temperature' : 'else'
  const amount = readAmount(String(file.constants[name]))
  const code = 'unit' in amount ? amount.unit.code : ''
  if (hasOwnZero(code)) return 'temperature'
  return code === 'K' ? 'either' : 'else'
}

function kindOfRise(rise: number): TemperatureKind | undefined {
  if (!Number.isFinite(rise)) return undefined
  const share = Number(rise.toFixed(6))
  if (share === 1) return 'temperature'
  return share === 0 ? 'difference' : 'neither'
}
