import fc from 'fast-check'
import { z } from 'zod'
import { START } from '../support/manualClock.ts'
import { jsonRubbish } from './rubbish.ts'

interface JsonSchema {
  type?: string | string[]
  const?: unknown
  enum?: unknown[]
  anyOf?: JsonSchema[]
  oneOf?: JsonSchema[]
  allOf?: JsonSchema[]
  properties?: Record<string, JsonSchema>
  required?: string[]
  additionalProperties?: JsonSchema | boolean
  items?: JsonSchema
  minItems?: number
  maxItems?: number
  minLength?: number
  maxLength?: number
  pattern?: string
  minimum?: number
  maximum?: number
}

/**
 * Values that fit a schema of the HTTP interface nearly always: what lies behind the check of the input is reached by them alone.
 *
 * @param words Texts that mean something to this server: ids, names, codes.
 */
export function fitting(schema: z.ZodType, words: readonly string[]): fc.Arbitrary<unknown> {
  return valueFor(
    z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any', reused: 'inline' }) as JsonSchema,
    words,
  )
}

function valueFor(schema: JsonSchema, words: readonly string[]): fc.Arbitrary<unknown> {
  if (schema.const !== undefined) return fc.constant(schema.const)
  if (schema.enum) return fc.constantFrom(...schema.enum)
  const choices = schema.anyOf ?? schema.oneOf
  if (choices) return fc.oneof(...choices.map((one) => valueFor(one, words)))
  if (schema.allOf?.[0]) return valueFor(schema.allOf[0], words)
  switch (schema.type) {
    case 'object':
      return objectOf(schema, words)
    case 'array':
      return fc.array(valueFor(schema.items ?? {}, words), {
        minLength: schema.minItems ?? 0,
        maxLength: Math.max(schema.minItems ?? 0, Math.min(schema.maxItems ?? 4, 4)),
      })
    case 'string':
      return textOf(schema, words)
    case 'integer':
    case 'number':
      return numberOf(schema)
    case 'boolean':
      return fc.boolean()
    case 'null':
      return fc.constant(null)
    default:
      return fc.oneof(jsonRubbish, fc.integer({ min: -5, max: 200 }))
  }
}

function objectOf(
  { properties = {}, required = [], additionalProperties }: JsonSchema,
  words: readonly string[],
) {
  const known = fc.record(
    Object.fromEntries(Object.entries(properties).map(([name, one]) => [name, valueFor(one, words)])),
    { requiredKeys: required, noNullPrototype: true },
  )
  if (typeof additionalProperties !== 'object') return known
  const more = fc.dictionary(fc.constantFrom(...words), valueFor(additionalProperties, words), {
    maxKeys: 3,
    noNullPrototype: true,
  })
  return fc.tuple(known, more).map(([a, b]) => ({ ...b, ...a }))
}

function textOf({ pattern, minLength = 0, maxLength = 40 }: JsonSchema, words: readonly string[]) {
  const text = fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...words) },
    fc.string({ minLength, maxLength: Math.max(minLength, Math.min(maxLength, 200)) }),
  )
  if (pattern === undefined) return text
  try {
    return fc.oneof(fc.stringMatching(new RegExp(pattern)), text)
  } catch {
    return text
  }
}

function numberOf({ type, minimum, maximum }: JsonSchema) {
  const low = Math.max(minimum ?? -1e6, -1e15)
  const high = Math.max(low, Math.min(maximum ?? 1e6, 1e15))
  const small = fc.integer({
    min: Math.ceil(low),
    max: Math.max(Math.ceil(low), Math.min(Math.floor(high), 10)),
  })
  const time = fc.integer({ min: -100_000, max: 100_000 }).map((offset) => START + offset)
  const wide =
    type === 'integer'
      ? fc.integer({ min: Math.ceil(low), max: Math.max(Math.ceil(low), Math.floor(high)) })
      : fc.double({ min: low, max: high, noNaN: true })
  return fc.oneof(small, wide, time)
}
