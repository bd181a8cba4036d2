import { exampleOf, type Format } from './format.ts'

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/
const LONGEST = 64
const decoder = new TextDecoder()

/** The payload is one number as text, e.g. "12.4". A decimal comma, NaN and infinity are faults. */
export const number: Format<'number'> = {
  decode(payload, _setting, unit) {
    const text = payload.byteLength > LONGEST ? '' : decoder.decode(payload).trim()
    const value = NUMBER.test(text) ? Number(text) : Number.NaN
    if (Number.isFinite(value)) return [{ value }]
    return { found: `payload is "${exampleOf(payload)}"`, expected: `one number in ${unit}` }
  },
}
