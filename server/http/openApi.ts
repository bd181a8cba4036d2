import { VERSION } from '../version.ts'

/** The HTTP interface, described for programs. Kept true by test/server/http/app.test.ts. */
const plant = {
  name: 'plant',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Plant id',
}
const alarm = {
  name: 'alarm',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Alarm id',
}
const figure = {
  name: 'figure',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Figure id',
}
const control = {
  name: 'control',
  in: 'path',
  required: true,
  schema: { type: 'string' },
  description: 'Control id',
}

const run = {
  name: 'run',
  in: 'path',
  required: true,
  schema: { type: 'integer' },
  description: 'Run number',
}
const point = {
  name: 'point',
  in: 'path',
  required: true,
  schema: { type: 'integer' },
  description: 'Point number',
}
const text = (maxLength: number) => ({ type: 'string', maxLength })

const inQuery = (name: string, description: string, type = 'integer') => ({
  name,
  in: 'query',
  required: false,
  schema: { type },
  description,
})

const json = (description: string) => ({
  description,
  content: { 'application/json': { schema: { type: 'object' } } },
})

const get = (summary: string, parameters: object[] = []) => ({
  get: { summary, parameters, responses: { '200': json(summary), '404': json('There is no such thing.') } },
})

const post = (summary: string, parameters: object[], properties: object) => ({
  post: {
    summary,
    parameters,
    requestBody: { content: { 'application/json': { schema: { type: 'object', properties } } } },
    responses: {
      '200': json(summary),
      '400': json('The body cannot be used; the reply lists every fault.'),
      '403': json('Not from this machine, or not from this server’s own page.'),
      '404': json('There is no such thing.'),
    },
  },
})

export const openApi = {
  openapi: '3.1.0',
  info: {
    title: 'Headrace',
    version: VERSION,
    description:
      'Telemetry of small hydropower plants. Times are milliseconds since 1970 UTC; units are UCUM codes in SI; a ' +
      'value that cannot be given is null. Monitoring is not protection.',
  },
  paths: {
    '/api/health': get('Rates, queues, faults by topic, memory'),
    '/api/openapi.json': get('This description'),
    '/metrics': get('The same numbers as open-metrics text'),
    '/api/plants': get('Every plant with its state and headline figure'),
    '/api/plants/{plant}/live': get('Everything a screen needs: descriptions, values, alarms', [plant]),
    '/api/plants/{plant}/counters': get('Energy, volume and run time', [plant]),
    '/api/plants/{plant}/balance': get('Whether the instruments agree, and which one does not', [plant]),
    '/api/plants/{plant}/figures/{figure}/explain': get(
      'Where a figure comes from, with the numbers of now',
      [plant, figure],
    ),
    '/api/plants/{plant}/history': get('Minimum, mean and maximum per bucket', [
      plant,
      { ...inQuery('figures', 'Figure ids, separated by commas, at most 20', 'string'), required: true },
      inQuery('from', 'Start; default one hour before the end'),
      inQuery('to', 'End, exclusive; default now'),
      inQuery('points', 'Number of buckets, 1 … 5000; default 1000'),
    ]),
    '/api/plants/{plant}/alarms': get('All alarms with their states', [plant]),
    '/api/plants/{plant}/alarms/{alarm}/acknowledge': post(
      'Acknowledge; repeating it changes nothing',
      [plant, alarm],
      {
        note: { type: 'string', maxLength: 500 },
      },
    ),
    '/api/plants/{plant}/alarms/{alarm}/reset': post(
      'Reset a latched alarm after it was acknowledged',
      [plant, alarm],
      {
        note: { type: 'string', maxLength: 500 },
      },
    ),
    '/api/plants/{plant}/journal': get('Alarm journal, newest first', [
      plant,
      inQuery('limit', '1 … 1000; default 100'),
      inQuery('before', 'Sequence number to continue from'),
    ]),
    '/api/plants/{plant}/simulator/{control}': post(
      'Command to the simulator of a simulated plant',
      [plant, control],
      {
        value: { description: 'true or false for a switch, a number for a slider, an id for a choice' },
      },
    ),
    '/api/plants/{plant}/trials': get('Guided tests, what each needs here, and the saved runs', [plant]),
    '/api/plants/{plant}/runs': post('Start a run; one may be under way at a plant', [plant], {
      trial: text(64),
      name: text(80),
      className: text(80),
      group: text(80),
      year: text(20),
    }),
    '/api/plants/{plant}/runs/{run}': get('A run: points, curve, and guidance while it is under way', [
      plant,
      run,
    ]),
    '/api/plants/{plant}/runs/{run}/points': post('Enter a point that somebody read', [plant, run], {
      by: text(80),
      figures: {
        type: 'array',
        description: '{figure, value, unit, u}: a number, its unit, its standard uncertainty',
      },
    }),
    '/api/plants/{plant}/runs/{run}/points/{point}': post('Keep or reject a point', [plant, run, point], {
      verdict: { enum: ['kept', 'rejected'] },
      reason: text(300),
    }),
    '/api/plants/{plant}/runs/{run}/repeat': post(
      'Take the next steady state even if it repeats a point',
      [plant, run],
      {},
    ),
    '/api/plants/{plant}/runs/{run}/notes': post(
      'Edit names and notes; readings cannot be edited',
      [plant, run],
      {
        name: text(80),
        className: text(80),
        group: text(80),
        year: text(20),
        notes: text(4000),
      },
    ),
    '/api/plants/{plant}/runs/{run}/finish': post('End a run', [plant, run], {}),
    '/api/plants/{plant}/runs/{run}/pack': get('Zip: raw and reduced CSV, JSON, method sheet, checksums', [
      plant,
      run,
    ]),
  },
} as const
