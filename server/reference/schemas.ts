import { z } from 'zod'
import { notifyFileSchema } from '../alarms/notify/settings.ts'
import { constantPaths } from '../plant/constants.ts'
import { CURVE_PATHS } from '../plant/plusMinus.ts'
import { plantFileSchema } from '../plant/schema.ts'

/** JSON Schemas (draft 2020-12) of the files that people write, for editors that complete and check while one types. */

type Json = { [key: string]: unknown }

const PLUS_MINUS = {
  plusMinus: { type: ['string', 'number'] },
  distribution: { enum: ['rectangular', 'normal'] },
  calibration: { type: 'string' },
}

export function plantFileJsonSchema(): Json {
  const schema = jsonSchemaOf(plantFileSchema, 'Plant file of Headrace')
  for (const path of constantPaths) widen(schema, path.split('.'), 'value')
  for (const path of CURVE_PATHS) widen(schema, path.split('.'), 'points')
  return schema
}

export function notifyFileJsonSchema(): Json {
  return jsonSchemaOf(notifyFileSchema, 'Notification file of Headrace')
}

function jsonSchemaOf(schema: z.ZodType, title: string): Json {
  return { title, ...(z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Json) }
}

/** A constant or curve may stand in a record with its ±, or as a text with it. */
function widen(schema: Json, path: readonly string[], key: 'value' | 'points'): void {
  const [first, ...rest] = path
  const properties = schema['properties'] as Record<string, Json> | undefined
  const bare = first === undefined ? undefined : properties?.[first]
  if (!properties || first === undefined || bare === undefined) return
  if (rest.length > 0) {
    widen(bare, rest, key)
    return
  }
  const record = {
    type: 'object',
    properties: { [key]: bare, ...PLUS_MINUS },
    required: [key],
    additionalProperties: false,
  }
  properties[first] = {
    ...(bare['description'] === undefined ? {} : { description: bare['description'] }),
    anyOf: [bare, ...(key === 'value' ? [{ type: 'string', pattern: '±|\\+/-|\\+-' }] : []), record],
  }
}
