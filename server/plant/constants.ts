import { z } from 'zod'
import { unitOfField } from './fields.ts'
import { plantFileSchema } from './schema.ts'

/** Sections of the plant file whose numbers formulas may use as constants. */
export const CONSTANT_SECTIONS = [
  'site',
  'turbine',
  'generator',
  'penstock',
  'weir',
  'orifice',
  'venturi',
  'indexTaps',
  'pump',
  'battery',
  'charger',
  'spillway',
  'forebay',
  'residualOutlet',
  'loads',
  'dump',
  'inverter',
  'licence',
] as const

/** UCUM codes of the SI units of all constants, by path, as the schema of the plant file has them. */
const UNITS = new Map(
  CONSTANT_SECTIONS.flatMap((section) => unitsIn(section, plantFileSchema.shape[section])),
)

/** Every path that a formula may name, whether or not a plant gives it. */
export const constantPaths: readonly string[] = [...UNITS.keys()]

/** UCUM code of the SI unit of a constant; "1" for a plain number. */
export function constantUnit(path: string): string {
  return UNITS.get(path) ?? '1'
}

function unitsIn(path: string, field: z.core.$ZodType): [path: string, unit: string][] {
  if (field instanceof z.ZodOptional || field instanceof z.ZodDefault) return unitsIn(path, field.unwrap())
  if (field instanceof z.ZodObject)
    return Object.entries(field.shape).flatMap(([key, inner]) => unitsIn(`${path}.${key}`, inner))
  const unit = unitOfField(field)
  return unit === undefined ? [] : [[path, unit]]
}
