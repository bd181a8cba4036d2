import { parse as parseSafely } from 'secure-json-parse'
import { type Decoded, type DecodeFault, exampleOf, type Format, type JsonSetting } from './format.ts'
import { readTime } from './time.ts'

const DEEPEST = 32
const decoder = new TextDecoder('utf-8', { fatal: true })

/** The payload is a JSON document; pointers (RFC 6901) say where value, time, peak and unit are. */
export const json: Format<JsonSetting> = {
  decode(payload, setting, unit) {
    const document = parse(payload)
    if (document === undefined)
      return {
        found: `payload is "${exampleOf(payload)}"`,
        expected: 'a JSON document without "__proto__" keys',
      }
    const value = numberAt(document, setting.value)
    if (value === undefined) return faultAt(document, setting.value, `a number in ${unit}`)
    if (setting.unit !== undefined) {
      const named = valueAt(document, setting.unit)
      if (named !== unit) return faultAt(document, setting.unit, `the unit "${unit}"`)
    }
    return withTimeAndPeak(document, setting, value)
  },
}

function withTimeAndPeak(document: unknown, setting: JsonSetting, value: number): Decoded {
  const sample: { value: number; at?: number; peak?: number } = { value }
  if (setting.time !== undefined) {
    const at = readTime(valueAt(document, setting.time), setting.timeUnit)
    if (!Number.isFinite(at)) return faultAt(document, setting.time, `a time in ${setting.timeUnit}`)
    sample.at = at
  }
  if (setting.peak !== undefined) {
    const peak = numberAt(document, setting.peak)
    if (peak !== undefined) sample.peak = peak
  }
  return [sample]
}

/** Undefined for anything that is not JSON, is nested too deeply or tries to reach prototypes. */
function parse(payload: Uint8Array): unknown {
  try {
    const text = decoder.decode(payload)
    if (isTooDeep(text)) return undefined
    return parseSafely(text, null, { protoAction: 'error', constructorAction: 'error' }) as unknown
  } catch {
    return undefined
  }
}

/** Counts brackets outside of texts; cheap, and before any parsing. */
function isTooDeep(text: string): boolean {
  let depth = 0
  let isText = false
  for (let i = 0; i < text.length; i++) {
    const c = text[i]
    if (isText) {
      if (c === '\\') i++
      else if (c === '"') isText = false
    } else if (c === '"') isText = true
    else if (c === '{' || c === '[') {
      depth++
      if (depth > DEEPEST) return true
    } else if (c === '}' || c === ']') depth--
  }
  return false
}

/** RFC 6901; undefined where nothing is. */
export function valueAt(document: unknown, pointer: string): unknown {
  if (pointer === '') return document
  let value = document
  for (const token of pointer.slice(1).split('/')) {
    const key = token.replaceAll('~1', '/').replaceAll('~0', '~')
    if (value === null || typeof value !== 'object' || !Object.hasOwn(value, key)) return undefined
    value = (value as Record<string, unknown>)[key]
  }
  return value
}

/** A number, or a truth value as 1 or 0; text is no number even where it looks like one. */
function numberAt(document: unknown, pointer: string): number | undefined {
  const value = valueAt(document, pointer)
  if (typeof value === 'boolean') return Number(value)
  return typeof value === 'number' && Number.isFinite(value) ? value : undefined
}

function faultAt(document: unknown, pointer: string, expected: string): DecodeFault {
  const value = valueAt(document, pointer)
  const found =
    value === undefined ? 'is not there' : `is ${JSON.stringify(value).slice(0, 80)} (${kindOf(value)})`
  return { found: `field "${pointer}" ${found}`, expected }
}

function kindOf(value: unknown): string {
  if (value === null) return 'null'
  if (Array.isArray(value)) return 'list'
  return typeof value === 'string' ? 'text' : typeof value
}
