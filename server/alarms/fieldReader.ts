import { ratedOf } from '../derive/describe.ts'
import { equal, printDimension } from '../derive/dimensions.ts'
import { FormulaFault } from '../derive/expression.ts'
import { readDifference, readMeasure } from '../plant/measures.ts'
import type { Plant } from '../plant/plant.ts'
import type { AlarmFile } from '../plant/schema.ts'
import { type FigureDescription, isTemperatureDifference } from '../wire/figure.ts'
import { unitOf } from '../wire/units.ts'
import { compilePlantExpression, isStateWord, type PlantExpression } from './expression.ts'
import { AmountFault, type FieldReader } from './kinds/kind.ts'

/** Where the plant file gives no deadband, this share of the limit. */
const DEFAULT_DEADBAND = 0.01

/** Stands in for the figure of an alarm that is on none. */
const NO_FIGURE: FigureDescription = {
  id: '',
  name: '',
  symbol: '',
  unit: '1',
  viewUnit: '1',
  group: 'condition',
  origin: 'measured',
  staleAfterMs: null,
}

export interface ReaderOptions {
  file: AlarmFile
  plant: Plant
  figures: readonly FigureDescription[]
}

/** Reads the amounts of one alarm in the unit of its figure. */
export function createFieldReader({ file, plant, figures }: ReaderOptions): FieldReader {
  const figure = figures.find((one) => one.id === file.figure) ?? NO_FIGURE
  const rated = ratedOf(figure.id, plant)
  const amount = (field: keyof AlarmFile, text: string, read: typeof readMeasure): number => {
    const result = readAmount(text, { figure, rated, read })
    if (typeof result === 'string') throw new AmountFault(field, result)
    return result
  }
  const difference: FieldReader['difference'] = (field, text = String(file[field])) =>
    amount(field, text, readDifference)
  return {
    file,
    plant,
    figure,
    difference,
    level: (field, text = String(file[field])) =>
      amount(field, text, isTemperatureDifference(figure) ? readDifference : readMeasure),
    deadband: (limit) =>
      file.deadband === undefined ? Math.abs(limit) * DEFAULT_DEADBAND : difference('deadband'),
    expression: (field) => readReference(field, { file, plant, figures }, figure),
  }
}

interface AmountContext {
  figure: FigureDescription
  rated: number | undefined
  read: typeof readMeasure
}

/** SI value, or the sentence that says what was expected. */
function readAmount(text: string, { figure, rated, read }: AmountContext): number | string {
  const share = /^(.+?)\s+of\s+rated$/.exec(text.trim())
  if (!share) {
    const result = read(text, unitOf(figure.unit))
    return 'si' in result ? result.si : `${result.expected}, or a share such as "110 % of rated"`
  }
  if (rated === undefined)
    return `a limit with a unit, since the plant file gives no rated ${figure.name.toLowerCase()}`
  const ratio = readMeasure(share[1]!, unitOf('1'))
  return 'si' in ratio ? ratio.si * rated : 'a share such as "110 % of rated"'
}

/** What an alarm is held against, in the unit of its figure. @throws {AmountFault} */
function readReference(field: 'from', options: ReaderOptions, { unit }: FigureDescription): PlantExpression {
  const reference = compileField(field, 'an expression', options)
  const { dimension } = reference.expression
  if (equal(dimension, unitOf(unit).dimension)) return reference
  throw new AmountFault(field, `an expression in ${unit}; this one gives ${printDimension(dimension)}`)
}

/** The condition without which an alarm means nothing; undefined where it names none. @throws {AmountFault} */
export function readWhile(options: ReaderOptions): PlantExpression | undefined {
  const text = options.file.while
  if (text === undefined) return undefined
  const condition = compileField('while', 'a condition', options)
  if (condition.expression.isCondition || isStateWord(text.trim())) return condition
  throw new AmountFault('while', 'a condition such as "running" or "activePower > 5 kW"')
}

function compileField(
  field: 'from' | 'while',
  what: string,
  { file, plant, figures }: ReaderOptions,
): PlantExpression {
  const { curve } = file
  try {
    return compilePlantExpression(file[field]!, { plant, figures, ...(curve ? { curve } : {}) })
  } catch (error) {
    if (!(error instanceof FormulaFault)) throw error
    throw new AmountFault(field, `${what} over figures that this plant has (${error.message})`)
  }
}
