import { readDifference, readMeasure } from '../plant/measures.ts'
import type { Plant, PlantFault } from '../plant/plant.ts'
import { roleOf } from '../plant/roles.ts'
import type { OwnFigureFile } from '../plant/schema.ts'
import { findUnit, isConvertible, siUnitOf, type Unit, unitOf, unitsLike } from '../wire/units.ts'
import { equal, printDimension } from './dimensions.ts'
import { compileExpression, type Expression, FormulaFault } from './expression.ts'
import { bindOwnSymbols, type KnownFigures, type OwnSymbols } from './ownSymbols.ts'
import { type IsTemperature, temperatureKind, temperaturesOf } from './ownTemperature.ts'
import { quantities as builtIn } from './quantities/index.ts'
import type { Quantity, Way } from './quantity.ts'

/** The plant's own figures as quantities like the built-in ones, inputs first; and everything that is wrong with them. */
export interface OwnFigures {
  quantities: Quantity[]
  faults: PlantFault[]
}

/**
 * Reads the section `figures` of a plant file. Formulas are parsed and checked for units here, whether or not the
 * plant has the instruments for them; what it lacks comes out of the plan as missing, like for any figure.
 *
 * @param taken Ids that people know as something else, such as counters.
 */
export function ownFigures(plant: Plant, taken: readonly string[] = []): OwnFigures {
  const faults: PlantFault[] = []
  const known = knownFigures(plant)
  const temperatures = temperaturesOf(plant, known)
  const read = plant.figures.flatMap((file, i) => {
    const place = `figures[${i}]`
    const report = (path: string, received: string, expected: string) =>
      faults.push({ path: `${place}${path}`, received, expected })
    const quantity = readOne({ file, plant, known, temperatures, place, report, taken })
    return quantity ? [quantity] : []
  })
  return { quantities: inputsFirst(read, plant, faults), faults }
}

interface Reading {
  file: OwnFigureFile
  plant: Plant
  known: KnownFigures
  temperatures: IsTemperature
  place: string
  report: (path: string, received: string, expected: string) => void
  taken: readonly string[]
}

function readOne(reading: Reading): Quantity | undefined {
  const { file, plant, taken } = reading
  let isSound = true
  const report: Reading['report'] = (...fault) => {
    isSound = false
    reading.report(...fault)
  }
  const clash = taken.includes(file.id) ? 'a counter' : ownerOf(file.id, plant)
  if (clash) report('.id', `"${file.id}"`, `an id that is not taken: this is ${clash}`)
  const units = readUnits(file, report)
  const symbols = bindOwnSymbols({ ...reading, report })
  if (!units || !symbols) return undefined
  checkFormula({ file, symbols, report }, units.si)
  file.valid.forEach((floor, i) => {
    checkTest({ text: floor.test, symbols, report }, `.valid[${i}].test`)
  })
  const view = viewOf({ ...reading, report }, { units, symbols, isSound })
  const possible = readPossible({ ...file, view: view.code }, units.own, report)
  if (!isSound) return undefined
  return {
    id: file.id,
    name: file.name,
    symbol: file.symbol ?? file.id,
    unit: units.si.code,
    view: view.code,
    group: file.group,
    fixedView: true,
    ways: [
      {
        formula: file.formula,
        inputs: symbols.inputs,
        constants: symbols.constants,
        amounts: symbols.amounts,
        valid: file.valid,
        ...(possible ? { possible } : {}),
        source: file.source ?? 'the plant file',
      },
    ],
  }
}

/**
 * The unit it is read in. A temperature is read in Cel, a difference of temperatures in K, whatever is written: that tells the
 * two apart, and with them how a limit in °C is meant.
 */
function viewOf(
  { file, temperatures, report }: Reading,
  { units, symbols, isSound }: { units: OwnUnits; symbols: OwnSymbols; isSound: boolean },
): Unit {
  if (units.si.code !== 'K' || !isSound) return units.view
  const kind = temperatureKind({ file, symbols, isTemperature: temperatures })
  if (kind === undefined) return units.view
  if (kind === 'neither')
    report('.formula', `"${file.formula}"`, 'a temperature, or a difference of two: this is neither')
  return unitOf(kind === 'difference' ? 'K' : 'Cel')
}

/** What each id measures and in what unit, whether this plant has it or not. */
function knownFigures(plant: Plant): KnownFigures {
  const own = new Map(
    plant.figures.flatMap((file) => {
      const unit = findUnit(file.unit)
      return unit ? [[file.id, siUnitOf(unit).code] as const] : []
    }),
  )
  const derived = new Map(builtIn.map((quantity) => [quantity.id, quantity.unit]))
  const measured = new Map(plant.instruments.map((one) => [one.quantity, one.siUnit.code]))
  return {
    unitOf(id) {
      const role = roleOf(id)
      const isNumbered = /\.\d+$/.test(id)
      const byRole = role && Boolean(role.many) === isNumbered ? role.unit : undefined
      return own.get(id) ?? measured.get(id) ?? derived.get(id) ?? byRole
    },
    listUnitOf: (family) => (roleOf(family)?.many ? roleOf(family)!.unit : undefined),
    ids: [...own.keys(), ...measured.keys(), ...derived.keys()],
  }
}

function ownerOf(id: string, { instruments }: Plant): string | undefined {
  if (builtIn.some((quantity) => quantity.id === id)) return 'a figure that Headrace computes'
  if (instruments.some((one) => one.quantity === id)) return 'measured by an instrument'
  return roleOf(id) ? 'a role of instruments' : undefined
}

interface OwnUnits {
  own: Unit
  si: Unit
  view: Unit
}

function readUnits({ unit, view }: OwnFigureFile, report: Reading['report']): OwnUnits | undefined {
  const own = findUnit(unit)
  if (!own) {
    report('.unit', `"${unit}"`, 'a UCUM unit code such as "W", "kW.h/m3", "%", "1"')
    return undefined
  }
  const shown = findUnit(view ?? unit)
  if (!shown || !isConvertible(shown, own)) {
    report('.view', `"${view}"`, `a unit like ${own.code}: ${unitsLike(own).join(', ')}`)
    return undefined
  }
  return { own, si: siUnitOf(own), view: shown }
}

interface FormulaCheck {
  file: OwnFigureFile
  symbols: OwnSymbols
  report: Reading['report']
}

function checkFormula({ file, symbols, report }: FormulaCheck, si: Unit): void {
  const expression = compile(file.formula, symbols, report)
  if (!expression) return
  if (expression.isCondition) report('.formula', `"${file.formula}", a comparison`, 'an amount')
  else if (!equal(expression.dimension, si.dimension))
    report(
      '.formula',
      `"${file.formula}", which gives ${printDimension(expression.dimension)}`,
      `${printDimension(si.dimension)}, as its unit ${file.unit} says`,
    )
}

function checkTest(
  { text, symbols, report }: { text: string; symbols: OwnSymbols; report: Reading['report'] },
  path: string,
): void {
  const expression = compile(text, symbols, (_path, ...rest) => report(path, ...rest))
  if (expression && !expression.isCondition) report(path, `"${text}"`, 'a comparison such as "Q > 0"')
}

function compile(text: string, symbols: OwnSymbols, report: Reading['report']): Expression | undefined {
  try {
    return compileExpression(text, symbols.bindings)
  } catch (error) {
    if (!(error instanceof FormulaFault)) throw error
    report('.formula', `"${text}": ${error.message}`, 'a formula whose functions and units add up')
    return undefined
  }
}

function readPossible(
  { possible, unit: written, view = written }: OwnFigureFile,
  unit: Unit,
  report: Reading['report'],
): Way['possible'] | undefined {
  if (!possible) return undefined
  const read = (end: 'low' | 'high', otherwise: number) => {
    const text = possible[end]
    if (text === undefined) return otherwise
    const amount = (view === 'K' ? readDifference : readMeasure)(String(text), unit)
    if ('si' in amount) return amount.si
    report(`.possible.${end}`, `"${text}"`, amount.expected)
    return otherwise
  }
  const low = read('low', Number.NEGATIVE_INFINITY)
  const high = read('high', Number.POSITIVE_INFINITY)
  if (low >= high) report('.possible', `${possible.low} … ${possible.high}`, 'low before high')
  return { low, high, suspects: possible.suspects }
}

/** Own figures that need each other in a circle are faults; the others come in an order in which inputs are first. */
function inputsFirst(read: Quantity[], plant: Plant, faults: PlantFault[]): Quantity[] {
  const byId = new Map(read.map((quantity) => [quantity.id, quantity]))
  const sorted = new Set<Quantity>()
  const broken = new Set<string>()

  function visit(quantity: Quantity, way: readonly string[]): void {
    if (sorted.has(quantity) || broken.has(quantity.id)) return
    const start = way.indexOf(quantity.id)
    if (start >= 0) {
      reportCircle([...way.slice(start), quantity.id])
      return
    }
    for (const id of Object.values(quantity.ways[0]!.inputs)) {
      const input = byId.get(id)
      if (input) visit(input, [...way, quantity.id])
    }
    if (!broken.has(quantity.id)) sorted.add(quantity)
  }

  function reportCircle(circle: readonly string[]): void {
    for (const id of circle) broken.add(id)
    const index = plant.figures.findIndex((file) => file.id === circle[0])
    faults.push({
      path: `figures[${index}].formula`,
      received: circle.join(' → '),
      expected: 'figures that do not need each other in a circle',
    })
  }

  for (const quantity of read) visit(quantity, [])
  return [...sorted]
}
