/** Parameters and shapes of answers that the description of the HTTP interface is put together from. */

export const plant = {
  name: 'plant',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Plant id',
}
export const alarm = {
  name: 'alarm',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Alarm id',
}
export const counter = {
  name: 'counter',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Counter id',
}
export const figure = {
  name: 'figure',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Figure id',
}
export const event = {
  name: 'event',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Event id',
}
export const NAME = { type: 'string', maxLength: 80, description: 'Who asks for it' }
export const REASON = { type: 'string', minLength: 3, maxLength: 500 }
export const control = {
  name: 'control',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Control id',
}
export const channel = {
  name: 'channel',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Channel id',
}

export const user = {
  name: 'user',
  in: 'path',
  required: true,
  schema: { type: 'integer' },
  description: 'User number',
}
export const text = { type: 'string' }
export const role = { enum: ['viewer', 'student', 'operator', 'maintainer', 'administrator'] }
export const byCode = { name: text, code: text, password: text }

export const replay = {
  name: 'replay',
  in: 'path',
  required: true,
  schema: { type: 'integer' },
  description: 'Replay number',
}
export const run = {
  name: 'run',
  in: 'path',
  required: true,
  schema: { type: 'integer' },
  description: 'Run number',
}
export const point = {
  name: 'point',
  in: 'path',
  required: true,
  schema: { type: 'integer' },
  description: 'Point number',
}
export const trace = { ...point, name: 'trace', description: 'Trace number' }
export const inPath = (name: string, description: string, type = 'integer') => ({
  ...{ name, in: 'path', required: true, description },
  schema: { type },
})

export const textUpTo = (maxLength: number) => ({ type: 'string', maxLength })

export const inQuery = (name: string, description: string, type = 'integer') => ({
  name,
  in: 'query',
  required: false,
  schema: { type },
  description,
})

export const json = (description: string) => ({
  description,
  content: { 'application/json': { schema: { type: 'object' } } },
})

export const answers = (summary: string) => ({
  '200': json(summary),
  '401': json('Not signed in.'),
  '403': json('The role is not enough, or the request is not from this server’s own page.'),
  '404': json('There is no such thing.'),
})

export const get = (summary: string, parameters: object[] = []) => ({
  get: { summary, parameters, responses: answers(summary) },
})

export const withBody = (summary: string, parameters: object[], properties: object) => ({
  summary,
  parameters,
  requestBody: { content: { 'application/json': { schema: { type: 'object', properties } } } },
  responses: {
    ...answers(summary),
    '400': json('The body cannot be used; the reply lists every fault.'),
  },
})

export const post = (summary: string, parameters: object[], properties: object) => ({
  post: withBody(summary, parameters, properties),
})

export const remove = (summary: string, parameters: object[]) => ({
  delete: { summary, parameters, responses: answers(summary) },
})
