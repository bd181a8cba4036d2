import { VERSION } from '../version.ts'
import { lessonPaths } from './openApiLessons.ts'
import {
  alarm,
  byCode,
  channel,
  control,
  counter,
  event,
  figure,
  get,
  inQuery,
  NAME,
  plant,
  point,
  post,
  REASON,
  remove,
  replay,
  role,
  run,
  text,
  textUpTo,
  trace,
  user,
  withBody,
} from './openApiParts.ts'

/** The HTTP interface, described for programs. Kept true by test/server/http/app.test.ts. */
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
    '/api/plants/{plant}/counters': get('Energy, volume, run time, starts and trips; today and this month', [
      plant,
    ]),
    '/api/plants/{plant}/counters/{counter}/days': get('A counter by local day of the plant', [
      plant,
      counter,
      inQuery('from', 'First date, e.g. 2026-03-01; default the first of the month', 'string'),
      inQuery('to', 'Last date, included; default today', 'string'),
    ]),
    '/api/plants/{plant}/indices': get('Capacity factor, availability and others, from counters', [plant]),
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
    '/api/plants/{plant}/alarms/{alarm}/shelve': post(
      'Take an alarm off the list for a time; the reason is a note of at least 3 characters',
      [plant, alarm],
      { minutes: { type: 'number', exclusiveMinimum: 0, maximum: 1440 }, note: REASON, name: NAME },
    ),
    '/api/plants/{plant}/alarms/{alarm}/unshelve': post(
      'Put a shelved alarm back on the list',
      [plant, alarm],
      {
        note: { type: 'string', maxLength: 500 },
      },
    ),
    '/api/plants/{plant}/alarms/{alarm}/outOfService': post(
      'Take an alarm out of service until it is put back',
      [plant, alarm],
      { note: REASON, name: NAME },
    ),
    '/api/plants/{plant}/alarms/{alarm}/putBack': post('Put an alarm back into service', [plant, alarm], {
      note: REASON,
      name: NAME,
    }),
    '/api/plants/{plant}/events': get('Records of over-speed and trips, newest first', [
      plant,
      inQuery('limit', '1 … 500; default 50'),
    ]),
    '/api/plants/{plant}/events/{event}': get('One record with its samples at full rate', [plant, event]),
    '/api/plants/{plant}/events/{event}/csv': get('The samples of a record as CSV', [plant, event]),
    '/api/plants/{plant}/reports/alarms': get('How the alarms did, by the measures of IEC 62682', [
      plant,
      inQuery('from', 'Start; default 30 days before the end'),
      inQuery('to', 'End, exclusive; default now'),
    ]),
    '/api/plants/{plant}/journal': get('Alarm journal, newest first', [
      plant,
      inQuery('limit', '1 … 1000; default 100'),
      inQuery('before', 'Sequence number to continue from'),
    ]),
    '/api/plants/{plant}/replays': {
      ...get('Recordings that are being shown', [plant]),
      ...post('Show a saved run, or any span of history, again', [plant], {
        run: { type: 'integer', minimum: 1 },
        from: { type: 'integer', description: 'ms UTC' },
        to: { type: 'integer', description: 'ms UTC, at most 31 days later' },
      }),
    },
    '/api/replays/{replay}': {
      ...get('How a replay stands', [replay]),
      ...post('Run, pause, speed, jump, hide; what is left out stays as it is', [replay], {
        isPaused: { type: 'boolean' },
        speed: { type: 'number', enum: [0.25, 0.5, 1, 2, 4, 8, 16] },
        at: { type: 'integer', description: 'Recorded moment, ms UTC' },
        hidden: { type: 'array', items: { type: 'string' }, maxItems: 40 },
      }),
      ...remove('End a replay', [replay]),
    },
    '/api/replays/{replay}/history': get(
      'Minimum, mean and maximum per bucket, up to the moment that is shown; hidden figures are left out',
      [
        replay,
        { ...inQuery('figures', 'Figure ids, separated by commas, at most 20', 'string'), required: true },
        inQuery('from', 'Start; default one hour before the end'),
        inQuery('to', 'End, exclusive; never later than the moment that is shown'),
        inQuery('points', 'Number of buckets, 1 … 5000; default 1000'),
      ],
    ),
    '/api/replays/{replay}/figures/{figure}/explain': get(
      'Where a figure comes from, with the numbers of the moment that is shown',
      [replay, figure],
    ),
    '/api/notifications': get(
      'Alarm messages: channels, ways and when each was last proven, newest deliveries',
    ),
    '/api/notifications/test': post('Send a test message that is to be confirmed', [], {
      recipient: { type: 'string', description: 'Left out: everybody' },
    }),
    '/api/notifications/channels/{channel}/enable': post(
      'Send over a channel again whose other end had said that it wants no more',
      [channel],
      {},
    ),
    '/api/notifications/browsers': post('Show messages for a recipient in this browser', [], {
      recipient: { type: 'string' },
      subscription: { type: 'object', description: 'As the browser’s PushManager gives it' },
    }),
    '/api/plants/{plant}/simulator/{control}': post(
      'Command to the simulator of a simulated plant',
      [plant, control],
      {
        value: { description: 'true or false for a switch, a number for a slider, an id for a choice' },
      },
    ),
    '/api/plants/{plant}/trials': get('Guided tests, what each needs here, and the saved runs', [plant]),
    '/api/plants/{plant}/runs': {
      ...get('Saved runs, newest first, 50 a page', [
        plant,
        ...['trial', 'class', 'group', 'year'].map((name) => inQuery(name, 'Only these; left out: any')),
        inQuery('before', 'Number of a run to continue from: `before` of the page before'),
      ]),
      ...post('Start a run; one may be under way at a plant', [plant], {
        trial: textUpTo(64),
        name: textUpTo(80),
        className: textUpTo(80),
        group: textUpTo(80),
        year: textUpTo(20),
      }),
    },
    '/api/plants/{plant}/runs/{run}': get('A run: points, curve, and guidance while it is under way', [
      plant,
      run,
    ]),
    '/api/plants/{plant}/runs/{run}/points': post('Enter a point that somebody read', [plant, run], {
      by: textUpTo(80),
      figures: {
        type: 'array',
        description: '{figure, value, unit, u}: a number, its unit, its standard uncertainty',
      },
    }),
    '/api/plants/{plant}/runs/{run}/points/{point}': post('Keep or reject a point', [plant, run, point], {
      verdict: { enum: ['kept', 'rejected'] },
      reason: textUpTo(300),
    }),
    '/api/plants/{plant}/runs/{run}/arm': post('Arm a run that records traces, or stand down', [plant, run], {
      armed: { type: 'boolean' },
    }),
    '/api/plants/{plant}/runs/{run}/traces/{trace}': {
      ...get('Readings of a trace to draw; the pack has every one', [plant, run, trace]),
      ...post('Keep or reject a trace', [plant, run, trace], {
        verdict: { enum: ['kept', 'rejected'] },
        reason: textUpTo(300),
      }),
    },
    '/api/plants/{plant}/runs/{run}/repeat': post(
      'Take the next steady state even if it repeats a point',
      [plant, run],
      {},
    ),
    '/api/plants/{plant}/runs/{run}/notes': post(
      'Edit names and notes; readings cannot be edited',
      [plant, run],
      {
        name: textUpTo(80),
        className: textUpTo(80),
        group: textUpTo(80),
        year: textUpTo(20),
        notes: textUpTo(4000),
      },
    ),
    '/api/plants/{plant}/runs/{run}/finish': post('End a run', [plant, run], {}),
    '/api/plants/{plant}/runs/{run}/pack': get(
      'Zip: raw and reduced CSV, JSON, method sheet, plots, worked point, printable record, checksums',
      [plant, run],
    ),
    '/api/plants/{plant}/runs/{run}/record': get('The record of a run as HTML that prints on A4', [
      plant,
      run,
    ]),
    ...lessonPaths,
    '/api/session': {
      ...get('Who is signed in here, and what they may do'),
      ...post('Sign in; the answer sets a cookie. 429 with Retry-After after failures', [], {
        name: text,
        password: text,
      }),
      ...remove('Sign out', [inQuery('everywhere', 'true: in every browser', 'string')]),
    },
    '/api/session/password': post('Change the own password; signs out everywhere else', [], {
      current: text,
      password: text,
    }),
    '/api/setup': post('Make an administrator with the code on the server’s console', [], byCode),
    '/api/password': post('Choose a password with the one-time code of an administrator', [], byCode),
    '/api/users': {
      ...get('Every user'),
      ...post('Add a user; the answer has the one-time code to hand over', [], { name: text, role }),
    },
    '/api/users/{user}': {
      patch: withBody('Change the role', [user], { role }),
      ...remove('Remove a user; the name stays in journal and audit', [user]),
    },
    '/api/users/{user}/code': post('Reset the password; the answer has a one-time code', [user], {}),
    '/api/audit': get('Who did what, newest first, refusals included', [
      inQuery('limit', '1 … 1000; default 100'),
      inQuery('before', 'Sequence number to continue from'),
    ]),
  },
} as const
