import { figure, get, inPath, plant, post, remove, textUpTo, withBody } from './openApiParts.ts'

const lesson = inPath('lesson', 'Class number')
const question = inPath('question', 'Question number')
const group = inPath('group', 'Group number')
const record = inPath('record', 'Record number')
const runPoint = {
  type: 'object',
  properties: { run: { type: 'integer' }, number: { type: 'integer' } },
  description: 'A captured point of the guided run that is under way',
}
const ids = { type: 'array', items: { type: 'string' } }

/** Classes, for the description of the HTTP interface. */
export const lessonPaths = {
  '/api/plants/{plant}/lessons': {
    ...get('Classes of a plant, newest first', [plant]),
    ...post('Open a class; it ends by hand or after 12 h', [plant], { title: textUpTo(80) }),
  },
  '/api/lessons/{lesson}': get('The instructor’s desk: code, groups, questions, what is hidden', [lesson]),
  '/api/lessons/{lesson}/pack': get('Zip: records and predictions of every group', [lesson]),
  '/api/lessons/{lesson}/figures/{figure}/explain': get(
    'Where a figure comes from, as the class may see it',
    [lesson, figure],
  ),
  '/api/lessons/{lesson}/arrange': post(
    'Choose numbers for the large screen, what is hidden, what is shown',
    [lesson],
    {
      title: textUpTo(80),
      numbers: { ...ids, maxItems: 6 },
      hidden: { ...ids, maxItems: 200 },
      explained: { type: ['string', 'null'] },
      source: { type: 'string', description: 'The plant, or another scene of it, such as a replay' },
    },
  ),
  '/api/lessons/{lesson}/freeze': post('Keep the figures of this moment, or let them go on', [lesson], {
    frozen: { type: 'boolean' },
  }),
  '/api/lessons/{lesson}/questions': post('Hide a figure and let groups predict it', [lesson], {
    text: textUpTo(200),
    figure: textUpTo(64),
  }),
  '/api/lessons/{lesson}/questions/{question}/close': post(
    'Take no more predictions',
    [lesson, question],
    {},
  ),
  '/api/lessons/{lesson}/questions/{question}/reveal': post(
    'Show the true figure and the predictions',
    [lesson, question],
    { point: runPoint },
  ),
  '/api/lessons/{lesson}/groups/{group}': {
    patch: withBody('Rename a group', [lesson, group], { name: textUpTo(30) }),
    ...remove('Remove a group with its phones; its records stay', [lesson, group]),
  },
  '/api/lessons/{lesson}/end': post('End a class', [lesson], {}),
  '/api/class/seat': {
    ...post('Join a class; the answer sets a cookie. 429 with Retry-After after wrong codes', [], {
      code: textUpTo(40),
      group: textUpTo(30),
    }),
    ...remove('Leave the class', []),
  },
  '/api/class': get('What this phone’s group has: records, prediction, points to take'),
  '/api/class/live': get('Everything that the class is shown'),
  '/api/class/pack': get('Zip: records and predictions of the own group'),
  '/api/class/figures/{figure}/explain': get('Where a figure comes from, as the class may see it', [figure]),
  '/api/class/records': post('Mark a record; the same key again makes no second one', [], {
    key: textUpTo(64),
    ageMs: { type: 'number', minimum: 0, description: 'How long ago it was pressed [ms]; at most 2 minutes' },
    remark: textUpTo(300),
    point: runPoint,
  }),
  '/api/class/records/{record}/remark': post('Write a remark to an own record', [record], {
    remark: textUpTo(300),
  }),
  '/api/class/records/{record}/strike': post('Strike an own record out; it stays with the reason', [record], {
    reason: { ...textUpTo(300), minLength: 3 },
  }),
  '/api/class/predictions': post('Predict the figure that is asked for; again replaces it', [], {
    question: { type: 'integer' },
    value: { type: 'number', description: 'SI unit of the figure' },
    u: { type: 'number', minimum: 0, description: 'Own ±, SI unit' },
  }),
}
