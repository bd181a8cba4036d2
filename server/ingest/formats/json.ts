import secureJson from 'secure-json-parse'
import type { Instrument } from '../../plant/plant.ts'
import type { PayloadFile } from '../../plant/schema.ts'
import { unitNamed } from '../../plant/unitNames.ts'
import { amountExpected, amountOf } from './amount.ts'
import { type Decoded, type Format, faulty, type Sample } from './format.ts'
import { burstOf } from './jsonBurst.ts'
import { compilePointer, type Pointer } from './jsonPointer.ts'
import { exampleOf, shownValue, textOf } from './payloadText.ts'
import { timeOf } from './timeStamp.ts'

type JsonSettings = Extract<PayloadFile, { format: 'json' }>

const DEEPEST = 32

/** A JSON document with the value at a JSON pointer, and perhaps its time, its peak and its unit at others. */
export const json: Format<JsonSettings, unknown> = {
  parse(payload) {
    const text = textOf(payload)
    // n characters cannot nest deeper than n/2
    if (text.length > 2 * DEEPEST && depthOf(text) > DEEPEST)
      return { fault: { found: `JSON nested deeper than ${DEEPEST} levels`, expected: 'flat JSON' } }
    try {
      return { document: secureJson.parse(text) as unknown }
    } catch {
      const expected = 'one JSON document without "__proto__" and "constructor" keys'
      return { fault: { found: `payload is "${exampleOf(payload, 60)}"`, expected } }
    }
  },

  picker(settings, instrument) {
    const wanted = compileAll(settings)
    if ('fault' in wanted) return () => wanted.fault
    return (document) => {
      const found = wanted.value(document)
      if (Array.isArray(found))
        return burstOf(
          { values: found, times: wanted.time?.(document), timeUnit: settings.timeUnit },
          instrument,
        )
      const value = amountOf(found, instrument)
      if (value === undefined) return noNumber(settings.value, found, instrument)
      const unitFault = wanted.unit && checkUnit(wanted.unit(document), settings.unit!, instrument)
      if (unitFault) return unitFault
      const sample: Sample = { value }
      if (wanted.time) addTime(sample, wanted.time(document), settings)
      if (wanted.peak) addPeak(sample, wanted.peak(document), { settings, instrument })
      return { samples: [sample] }
    }
  },
}

function noNumber(pointer: string, value: unknown, instrument: Instrument): Decoded {
  const place = pointer === '' ? 'the document' : `field "${pointer}"`
  return faulty(
    value === undefined ? `${place} is missing` : `${place} is ${shownValue(value)}`,
    amountExpected(instrument),
  )
}

function checkUnit(value: unknown, pointer: string, { unit }: Instrument): Decoded | undefined {
  if (typeof value === 'string' && unitNamed(value)?.code === unit.code) return undefined
  const shown = value === undefined ? 'missing' : shownValue(value)
  return faulty(`unit "${pointer}" is ${shown}`, `"${unit.code}", the unit in the plant file`)
}

function addTime(sample: Sample, value: unknown, { time, timeUnit }: JsonSettings): void {
  const at = timeOf(value, timeUnit)
  if (at !== undefined) sample.at = at
  else
    sample.doubt = `no time of measurement: "${time}" is ${value === undefined ? 'missing' : shownValue(value)}`
}

function addPeak(
  sample: Sample,
  value: unknown,
  { settings: { peak }, instrument }: { settings: JsonSettings; instrument: Instrument },
): void {
  const highest = amountOf(value, instrument)
  if (highest !== undefined) sample.peak = highest
  else sample.doubt = `no peak: "${peak}" is ${value === undefined ? 'missing' : shownValue(value)}`
}

interface Wanted {
  value: Pointer
  time?: Pointer
  peak?: Pointer
  unit?: Pointer
}

/** A pointer that cannot be read makes every packet a fault that says so, rather than stopping the server. */
function compileAll(settings: JsonSettings): Wanted | { fault: Decoded } {
  const compiled: Partial<Wanted> = {}
  for (const key of ['value', 'time', 'peak', 'unit'] as const) {
    const text = settings[key]
    if (text === undefined) continue
    const pointer = compilePointer(text)
    if (typeof pointer !== 'function')
      return { fault: faulty(`"${text}" as "${key}" of the plant file`, pointer.expected) }
    compiled[key] = pointer
  }
  return compiled as Wanted
}

/** Deepest nesting of brackets outside texts. */
function depthOf(text: string): number {
  let depth = 0
  let deepest = 0
  let isInText = false
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i)
    if (isInText) {
      if (c === 92 /* \ */) i++
      else if (c === 34 /* " */) isInText = false
    } else if (c === 34) isInText = true
    else if (c === 91 || c === 123 /* [ { */) deepest = Math.max(deepest, ++depth)
    else if (c === 93 || c === 125 /* ] } */) depth--
  }
  return deepest
}
