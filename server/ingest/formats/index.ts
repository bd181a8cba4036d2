import type { Instrument } from '../../plant/plant.ts'
import type { PayloadFile } from '../../plant/schema.ts'
import type { Decoded, Fault, Format } from './format.ts'
import { json } from './json.ts'
import { lineProtocol } from './lineProtocol.ts'
import { number } from './number.ts'

/** Every payload format by the name that plant files use. */
const formats = { number, json, lineProtocol }

/** How the packets of one instrument are read; `parse` is the same function for all instruments of one format. */
export interface Decoder {
  parse(payload: Uint8Array): { document: unknown } | { fault: Fault }
  /** @param document what `parse` made of the packet. */
  pick(document: unknown): Decoded
}

/** The decoder that an instrument's plant file asks for. Made once, used for every packet. */
export function decoderFor(instrument: Instrument): Decoder {
  const settings = instrument.payload
  const name = settings === 'number' ? settings : settings.format
  const format = formats[name] as Format<PayloadFile, unknown>
  return { parse: format.parse, pick: format.picker(settings, instrument) }
}
