import { z } from 'zod'
import { unitOf } from '../wire/units.ts'
import { readMeasure } from './measures.ts'
import { codeOfUnit } from './unitNames.ts'

/**
 * Field kinds of the plant file. Each reads a text such as "24 m" into SI and, when it cannot, says what it
 * expected: `load.ts` adds the place and what stood there.
 */

/** Units of the fields that are numbers: what they are converted to, and what formulas take them for. */
const units = new WeakMap<z.core.$ZodType, string>()

/** UCUM code of the SI unit of a field, "1" for a plain number; undefined for one that is no number. */
export function unitOfField(field: z.core.$ZodType): string | undefined {
  return units.get(field)
}

function inUnit<T extends z.core.$ZodType>(code: string, field: T): T {
  units.set(field, code)
  return field
}

/** A number without a unit, such as a count. */
export function plain<T extends z.core.$ZodType<number>>(field: T): T {
  return inUnit('1', field)
}

/** A time span, e.g. "30 s" or "5 min"; result in milliseconds. */
export function duration() {
  return measure('s')
    .refine((seconds) => seconds >= 0, { error: 'expected a time that is not negative' })
    .transform((seconds) => seconds * 1000)
}

/** A plain ratio: 0.94, or "94 %". */
export function ratio() {
  const field = z.union([z.number(), measure('1')], {
    error: 'expected a number such as 0.94, or a text such as "94 %"',
  })
  return inUnit('1', field)
}

/** A unit as people write it; its UCUM code where it is known. YAML takes a bare 1, that of a plain number, for a number. */
export const unitField = z
  .union([z.string().max(40), z.literal(1)], { error: 'expected a unit such as "bar" or "1"' })
  .transform((unit) => codeOfUnit(String(unit)))

/** Points [x, y] of a curve. */
export const curve = z.array(z.tuple([z.number(), z.number()])).min(2)

/** An id: starts with a letter, then letters, digits, "-" or "_"; used in topics, addresses and history. */
export const idField = z.string().regex(/^[A-Za-z][A-Za-z0-9_-]{0,63}$/, {
  error: 'expected an id: a letter, then up to 63 letters, digits, "-" or "_"',
})

/** A quantity id: an id with an optional number, e.g. "jetOpen.2". */
export const quantityField = z.string().regex(/^[A-Za-z][A-Za-z0-9_-]{0,63}(\.\d{1,3})?$/, {
  error: 'expected a quantity such as "netHead" or "jetOpen.2"',
})

/** A topic to publish or subscribe to: no wildcards, no control characters (MQTT 3.1.1 § 4.7). */
export const topicField = z
  .string()
  .min(1)
  .max(512)
  .refine((topic) => !hasForbiddenTopicCharacter(topic) && topic.split('/').length <= 32, {
    error: 'expected an MQTT topic name without "+", "#" or control characters, at most 32 levels',
  })
  .refine((topic) => !topic.startsWith('$'), { error: 'expected a topic that does not begin with "$"' })

function hasForbiddenTopicCharacter(topic: string): boolean {
  return [...topic].some((c) => c === '+' || c === '#' || c.codePointAt(0)! < 32 || c === '\u007f')
}

/** A physical amount, e.g. "24 m"; result in the SI unit with UCUM code `like`. */
export function measure(like: string) {
  const unit = unitOf(like)
  const given = z
    .union([z.string(), z.number()])
    .meta({ description: `An amount with its unit, one like ${like}` })
  const field = given.transform((raw, context) => {
    const result = readMeasure(String(raw), unit)
    if ('si' in result && Number.isFinite(result.si)) return result.si
    context.addIssue({
      code: 'custom',
      input: raw,
      message: 'expected' in result ? `expected ${result.expected}` : 'expected a finite number',
    })
    return z.NEVER
  })
  return inUnit(like, field)
}

/** A day of the calendar, e.g. "2027-03-01". */
export const dateField = z.iso.date({ error: 'expected a date such as "2027-03-01"' })

export const timeZoneField = z
  .string()
  .refine(isTimeZone, { error: 'expected an IANA time zone such as "Europe/London"' })

function isTimeZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone })
    return true
  } catch {
    return false
  }
}
