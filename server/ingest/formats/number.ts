import type { Fault, Format } from './format.ts'
import { bufferOf, exampleOf } from './payloadText.ts'

const LONGEST = 64
/** A decimal number with a point; no "0x", no "Infinity", no thousands separators. */
const NUMBER = /^\s*[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?\s*$/
const DECIMAL_COMMA = /^\s*[-+]?\d+,\d+\s*$/

/** The whole payload is one decimal number, e.g. "12.4". */
export const number: Format<'number', number> = {
  parse(payload) {
    if (payload.length > LONGEST) return { fault: fault(payload) }
    const text = bufferOf(payload).toString('latin1')
    const value = NUMBER.test(text) ? Number(text) : Number.NaN
    return Number.isFinite(value) ? { document: value } : { fault: fault(payload, text) }
  },
  picker: () => (value) => ({ samples: [{ value }] }),
}

function fault(payload: Uint8Array, text = ''): Fault {
  const found = payload.length === 0 ? 'an empty payload' : `payload is "${exampleOf(payload, 60)}"`
  const hint = DECIMAL_COMMA.test(text) ? ' with a decimal point' : ''
  return { found, expected: `a plain finite number${hint}, e.g. 12.4` }
}
