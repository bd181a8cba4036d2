import type { Instrument } from '../../plant/plant.ts'

/** A decimal number with a point; no "0x", no "Infinity", no thousands separators. */
const NUMBER = /^\s*[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?\s*$/
const LONGEST = 64

/** What relays and loggers write for the two states of a contact. */
const STATES = new Map<string, 0 | 1>([
  ['on', 1],
  ['off', 0],
  ['true', 1],
  ['false', 0],
  ['yes', 1],
  ['no', 0],
])
/** Which of these is 1 depends on what the contact tells of. */
const PLACES: readonly string[] = ['open', 'closed']

/** NaN where the text is no decimal number. */
export function numberOf(text: string): number {
  return text.length <= LONGEST && NUMBER.test(text) ? Number(text) : Number.NaN
}

/**
 * The number that a value of a payload is: a number, a text that is one decimal number with a point, and of a contact true, false,
 * "on", "off", "open" … in any case. Undefined for anything else.
 */
export function amountOf(value: unknown, instrument: Instrument): number | undefined {
  if (typeof value === 'boolean') return isContact(instrument) ? Number(value) : undefined
  const amount = typeof value === 'string' ? amountOfText(value, instrument) : value
  return typeof amount === 'number' && Number.isFinite(amount) ? amount : undefined
}

function amountOfText(text: string, instrument: Instrument): number | undefined {
  const amount = numberOf(text)
  if (!Number.isNaN(amount)) return amount
  return isContact(instrument) && text.length <= LONGEST
    ? stateOf(text.trim().toLowerCase(), instrument)
    : undefined
}

function stateOf(word: string, { role }: Instrument): number | undefined {
  if (PLACES.includes(word) && role?.isOneWhen !== undefined) return Number(word === role.isOneWhen)
  return STATES.get(word)
}

/** What has two states: by its role, or a plain number that no role tells more of. */
function isContact({ role, unit }: Instrument): boolean {
  return role ? role.discrete === true : unit.code === '1'
}

/** "a number in bar", "a number" for a plain ratio, the words that a contact may send. */
export function amountExpected(instrument: Instrument): string {
  const { unit, role } = instrument
  if (isContact(instrument) && role)
    return `1 or 0, on or off, true or false${role.isOneWhen === undefined ? '' : ', open or closed'}`
  return unit.print === '' ? 'a number' : `a number in ${unit.print}`
}
