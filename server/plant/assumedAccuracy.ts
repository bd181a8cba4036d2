import type { Unit } from '../wire/units.ts'
import type { Role } from './roles.ts'
import type { AccuracyFile } from './schema.ts'

/** What is taken for the accuracy of an instrument that states none: a plain class of its kind, never perfection. */
interface AssumedClass {
  /** Half-width as a share of the reading. */
  reading?: number
  /** Half-width as a share of the span, where the instrument has a range; else `reading` or `absolute` alone. */
  span?: number
  /** Half-width in the SI unit of the role. */
  absolute?: number
  /** For people. */
  source: string
}

const PRACTICE = 'common practice, no source'

/** By the role, where its kind of amount alone does not tell. */
const BY_ROLE: Readonly<Record<string, AssumedClass>> = {
  frequency: { absolute: 0.05, source: PRACTICE },
  energyMeter: { reading: 0.02, source: 'class 2 of IEC 62053-21 (from memory)' },
  exportMeter: { reading: 0.02, source: 'class 2 of IEC 62053-21 (from memory)' },
  importMeter: { reading: 0.02, source: 'class 2 of IEC 62053-21 (from memory)' },
  gridFrequency: { absolute: 0.05, source: PRACTICE },
  rainfall: { reading: 0.1, source: PRACTICE },
  vibration: { reading: 0.1, source: 'ISO 2954 (from memory)' },
  stateOfCharge: { absolute: 0.05, source: PRACTICE },
  rackDifferential: { absolute: 0.02, source: PRACTICE },
}

/** By the SI unit of what is measured. */
const BY_UNIT: Readonly<Record<string, AssumedClass>> = {
  K: { absolute: 0.3, reading: 0.005, source: 'a resistance thermometer of class B, IEC 60751' },
  Pa: { span: 0.016, reading: 0.016, source: 'a gauge of class 1.6, EN 837-1 (from memory)' },
  m: { absolute: 0.02, source: `a level gauge, ${PRACTICE}` },
  'm3/s': { reading: 0.02, source: `a flow meter as installed, ${PRACTICE}` },
  m3: { reading: 0.02, source: `a water meter, ${PRACTICE}` },
  'rad/s': { reading: 0.005, source: `a tachometer, ${PRACTICE}` },
  'N.m': { reading: 0.02, source: PRACTICE },
  W: { reading: 0.02, source: `a transducer with its current transformers, ${PRACTICE}` },
  var: { reading: 0.02, source: `a transducer with its current transformers, ${PRACTICE}` },
  V: { reading: 0.01, source: PRACTICE },
  A: { reading: 0.01, source: PRACTICE },
  rad: { absolute: Math.PI / 180, source: PRACTICE },
  '1': { absolute: 0.02, source: PRACTICE },
}

const ANY: AssumedClass = { span: 0.01, reading: 0.02, source: PRACTICE }

/**
 * The accuracy in the words of the plant file, and by what it is assumed. Undefined for contacts, and for what no role tells
 * more of than that it is a plain number.
 */
export function assumedAccuracy(
  role: Role | undefined,
  unit: Unit,
  range: readonly [number, number] | undefined,
): { accuracy: AccuracyFile; source: string } | undefined {
  if (role ? role.discrete : unit.code === '1') return undefined
  const { reading, span, absolute, source } = classOf(role)
  const bySpan = span !== undefined && range !== undefined
  return {
    accuracy: {
      ...(bySpan ? { span } : reading === undefined ? {} : { reading }),
      ...(absolute === undefined ? {} : { absolute: absolute / unit.factor }),
      distribution: 'rectangular',
    },
    source,
  }
}

function classOf(role: Role | undefined): AssumedClass {
  if (!role) return ANY
  if (Object.hasOwn(BY_ROLE, role.id)) return BY_ROLE[role.id]!
  return Object.hasOwn(BY_UNIT, role.unit) ? BY_UNIT[role.unit]! : ANY
}
