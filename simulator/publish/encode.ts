import type { Instrument } from '../../server/plant/plant.ts'

/** What one instrument contributes to a message: numbers as they stand in the payload. */
export interface Part {
  instrument: Instrument
  /** Text where a faulty instrument sends words instead of a number. */
  value: number | string
  peak?: number
}

/**
 * One payload for all instruments that share a topic. The first instrument's format rules; instruments of one topic
 * have one format.
 *
 * @param at Time of measurement [ms UTC].
 */
export function encode(parts: readonly Part[], at: number): string {
  const { payload } = parts[0]!.instrument
  if (payload === 'number') return numeral(parts[0]!.value)
  return payload.format === 'json' ? encodeJson(parts, at) : encodeLine(parts, at)
}

function encodeJson(parts: readonly Part[], at: number): string {
  const root: Holder = { document: undefined }
  for (const { instrument, value, peak } of parts) {
    const { payload } = instrument
    if (payload === 'number' || payload.format !== 'json') continue
    put(root, payload.value, typeof value === 'number' ? tidy(value) : value)
    if (payload.time !== undefined) put(root, payload.time, timeIn(payload.timeUnit, at))
    if (payload.unit !== undefined) put(root, payload.unit, instrument.unit.code)
    if (payload.peak !== undefined && peak !== undefined) put(root, payload.peak, tidy(peak))
  }
  return JSON.stringify(root.document)
}

type Holder = { document: unknown }

/** Writes at a JSON pointer (RFC 6901); a level is an array where its first key is a number. */
function put(root: Holder, pointer: string, value: unknown): void {
  const keys = pointer
    .split('/')
    .slice(1)
    .map((token) => token.replaceAll('~1', '/').replaceAll('~0', '~'))
  if (keys.length === 0) {
    root.document = value
    return
  }
  root.document ??= containerFor(keys[0]!)
  let level = root.document as Record<string, unknown>
  keys.slice(0, -1).forEach((key, i) => {
    level[key] ??= containerFor(keys[i + 1]!)
    level = level[key] as Record<string, unknown>
  })
  level[keys.at(-1)!] = value
}

function containerFor(key: string): object {
  return /^\d+$/.test(key) ? [] : {}
}

/** measurement,tag=value field=1,other=2 time */
function encodeLine(parts: readonly Part[], at: number): string {
  const { payload } = parts[0]!.instrument
  if (payload === 'number' || payload.format !== 'lineProtocol') return ''
  const tags = Object.entries(payload.tags).map(([key, value]) => `,${escapeKey(key)}=${escapeKey(value)}`)
  const fields = parts.flatMap(({ instrument, value }) =>
    instrument.payload !== 'number' && instrument.payload.format === 'lineProtocol'
      ? [`${escapeKey(instrument.payload.field)}=${fieldValue(value)}`]
      : [],
  )
  const head = payload.measurement.replaceAll(/([, ])/g, '\\$1')
  return `${head}${tags.join('')} ${fields.join(',')} ${timeIn(payload.timeUnit, at)}`
}

/** Keys and tag values escape comma, equals sign and space. */
function escapeKey(text: string): string {
  return text.replaceAll(/([,= ])/g, '\\$1')
}

function fieldValue(value: number | string): string {
  return typeof value === 'string' ? `"${value.replaceAll(/(["\\])/g, '\\$1')}"` : numeral(value)
}

function numeral(value: number | string): string {
  return typeof value === 'string' ? value : String(tidy(value))
}

/** Nine digits: finer than any instrument, without tails such as 0.30000000000000004. */
function tidy(value: number): number {
  return Number(value.toPrecision(9))
}

function timeIn(unit: 's' | 'ms' | 'us' | 'ns' | 'iso', at: number): number | string {
  if (unit === 'iso') return new Date(at).toISOString()
  if (unit === 's') return at / 1000
  if (unit === 'ms') return Math.round(at)
  // Microseconds still fit a number; nanoseconds are written digit by digit.
  return unit === 'us' ? Math.round(at * 1000) : `${Math.round(at)}000000`
}

export interface OutMessage {
  topic: string
  payload: string
  /** Contacts and settings are kept by the broker, so that who comes later knows them. */
  retain: boolean
}
