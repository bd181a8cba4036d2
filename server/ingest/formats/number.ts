import { amountExpected, amountOf, numberOf } from './amount.ts'
import { type Fault, type Format, faulty } from './format.ts'
import { bufferOf, exampleOf } from './payloadText.ts'

const LONGEST = 64
const DECIMAL_COMMA = /^\s*[-+]?\d+,\d+\s*$/
/** A text in quotes is a whole JSON document too. */
const QUOTED = /^\s*"([^"\\]*)"\s*$/
/** What a contact may say. */
const WORD = /^\s*[A-Za-z]+\s*$/

/** The whole payload is one decimal number, e.g. "12.4", or the word of a contact, e.g. "ON"; in quotes or without. */
export const number: Format<'number', number | string> = {
  parse(payload) {
    if (payload.length > LONGEST) return { fault: fault(payload) }
    const written = bufferOf(payload).toString('latin1')
    const text = QUOTED.exec(written)?.[1] ?? written
    const value = numberOf(text)
    if (Number.isFinite(value)) return { document: value }
    return WORD.test(text) ? { document: text } : { fault: fault(payload, text) }
  },
  picker: (_, instrument) => (document) => {
    const value = typeof document === 'number' ? document : amountOf(document, instrument)
    if (value !== undefined) return { samples: [{ value }] }
    return faulty(`payload is "${document}"`, amountExpected(instrument))
  },
}

function fault(payload: Uint8Array, text = ''): Fault {
  const found = payload.length === 0 ? 'an empty payload' : `payload is "${exampleOf(payload, 60)}"`
  const hint = DECIMAL_COMMA.test(text) ? ' with a decimal point' : ''
  return { found, expected: `a plain finite number${hint}, e.g. 12.4` }
}
