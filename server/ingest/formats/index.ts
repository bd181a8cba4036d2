import type { Instrument } from '../../plant/plant.ts'
import type { Decoded, Format } from './format.ts'
import { json } from './json.ts'
import { lineProtocol } from './lineProtocol.ts'
import { number } from './number.ts'

/** Every payload format by the name that plant files use. */
const formats = { number, json, lineProtocol }

/** Decodes the payload of one instrument by the format that its plant file names. */
export function decode(payload: Uint8Array, { payload: setting, unit }: Instrument): Decoded {
  const name = setting === 'number' ? setting : setting.format
  return (formats[name] as Format<typeof setting>).decode(payload, setting, unit.code)
}
