import type { PayloadFile } from '../../plant/schema.ts'

/** A value as the device sent it, before scaling. */
export interface Sample {
  value: number
  /** Time of measurement [ms UTC], where the payload carries one. */
  at?: number
  /** Highest value since the message before, where the device holds its peak. */
  peak?: number
}

/** What a payload was found to be: samples, or the reason why not. Nothing is thrown for bad payloads. */
export type Decoded = Sample[] | DecodeFault

export interface DecodeFault {
  /** e.g. `field "/p" is "12,4" (text)` */
  found: string
  /** e.g. `a number in bar` */
  expected: string
}

/** One payload format. `Setting` is what the plant file says about it. */
export interface Format<Setting> {
  decode(payload: Uint8Array, setting: Setting, unit: string): Decoded
}

export type JsonSetting = Extract<PayloadFile, { format: 'json' }>
export type LineProtocolSetting = Extract<PayloadFile, { format: 'lineProtocol' }>

export function isFault(decoded: Decoded): decoded is DecodeFault {
  return !Array.isArray(decoded)
}

const LONGEST_EXAMPLE = 200

/** The beginning of a payload as printable text, for people. */
export function exampleOf(payload: Uint8Array): string {
  const text = new TextDecoder().decode(payload.subarray(0, LONGEST_EXAMPLE))
  return [...text].map((c) => (c < ' ' || c === '\u007f' ? '·' : c)).join('')
}
