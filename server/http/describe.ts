import { z } from 'zod'
import { VERSION } from '../version.ts'
import { errorReply } from '../wire/replies.ts'
import { PARAMS, paramNames } from './params.ts'
import { get, type Media, type Route } from './route.ts'

type Json = Record<string, unknown>

/** The row that describes all rows, itself included. The description is made when it is first asked for. */
export function descriptionOf(routes: readonly Route[]): Route {
  let made: Json | undefined
  const row: Route = get('open', '/api/openapi.json', {
    summary: 'This description',
    reply: z.record(z.string(), z.unknown()),
    handle: () => (made ??= describeRoutes([...routes, row])),
  })
  return row
}

/** The HTTP interface for programs, by OpenAPI 3.1. */
function describeRoutes(routes: readonly Route[]): Json {
  const schemas: Json = {}
  const paths: Record<string, Json> = {}
  for (const route of routes) {
    const path = route.path.replace(/:(\w+)/g, '{$1}')
    paths[path] = { ...paths[path], [route.method]: describeRoute(route, schemas) }
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Headrace',
      version: VERSION,
      description:
        'Telemetry of small hydropower plants. Times are milliseconds since 1970 UTC; units are UCUM codes in SI; a ' +
        'value that cannot be given is null. Monitoring is not protection.',
    },
    paths,
    components: { schemas },
  }
}

function describeRoute(route: Route, schemas: Json): Json {
  const { path, right, summary, query, body, reply, proof } = route
  const names = paramNames(path)
  const fault = contentOf(errorReply, 'output', schemas)
  const answer = (description: string) => ({ description, ...fault })
  return {
    summary,
    parameters: [...names.map((name) => describeParam(name)), ...(query ? describeQuery(query) : [])],
    ...(body ? { requestBody: contentOf(body, 'input', schemas) } : {}),
    responses: {
      '200': { description: summary, ...contentOf(reply, 'output', schemas) },
      ...(query || body || names.length > 0
        ? { '400': answer('The request cannot be used; the reply lists every fault.') }
        : {}),
      ...(right === 'open' ? {} : { '401': answer(proof ? NOT_PROVEN : 'Not signed in.') }),
      '403': answer('The role is not enough, or the request is not from this server’s own page.'),
      ...(names.length > 0 ? { '404': answer('There is no such thing.') } : {}),
    },
  }
}

const NOT_PROVEN = 'Not signed in, or the password was not shown lately or is wrong.'

function describeParam(name: keyof typeof PARAMS): Json {
  const { description, ...schema } = jsonSchema(PARAMS[name], 'input')
  return { name, in: 'path', required: true, description, schema }
}

function describeQuery(query: z.ZodType): Json[] {
  const { properties = {}, required = [] } = jsonSchema(query, 'input')
  return Object.entries(properties as Record<string, Json>).map(([name, { description, ...schema }]) => ({
    name,
    in: 'query',
    required: (required as string[]).includes(name),
    ...(description === undefined ? {} : { description }),
    schema,
  }))
}

function contentOf(kind: z.ZodType | Media, io: 'input' | 'output', schemas: Json): Json {
  if (!(kind instanceof z.ZodType)) return { content: { [kind.media]: { schema: { type: 'string' } } } }
  const { $defs, ...schema } = jsonSchema(kind, io)
  Object.assign(schemas, $defs)
  return { content: { 'application/json': { schema } } }
}

/** JSON Schema 2020-12, which OpenAPI 3.1 takes; named parts stand in one place of the document. */
function jsonSchema(schema: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: 'any' })
  return JSON.parse(JSON.stringify(rest).replaceAll('#/$defs/', '#/components/schemas/')) as Json
}
