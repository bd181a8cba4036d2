import { z } from 'zod'
import { quality } from './figure.ts'
import { plantDoubt, sourceView } from './plant.ts'
import { flag, number, text, time, timeOrNull } from './shape.ts'

const column = z.array(number.nullable())
export const historyReply = z.object({
  from: time,
  to: time,
  bucketMs: number.describe('Width of one bucket'),
  at: z.array(time).describe('Start of each bucket'),
  figures: z.array(z.object({ id: text, unit: text, min: column, mean: column, max: column })),
})
/** Curves. All columns have the length of `at`; a gap is null. */
export type HistoryReply = z.output<typeof historyReply>

const halfWidth = number
  .exactOptional()
  .describe(
    'Half-width of the 95 % interval by what instruments are off; absent where it is not known or nothing was counted',
  )

const counterPeriod = z.object({
  from: time.describe('Begin of the period, or of the counting where that is later'),
  to: time.describe('End of the period, or now where that is earlier'),
  value: number,
  gapSeconds: number,
  uncertainSeconds: number,
  u95: halfWidth,
  peak: number.exactOptional().describe('Highest value during an event; absent where there was none'),
})
/** A part of a counter. */
export type CounterPeriod = z.output<typeof counterPeriod>

export const counterView = z.object({
  id: text,
  name: text,
  group: z.enum(['energy', 'water', 'running', 'protection', 'battery']),
  unit: text,
  value: number,
  source: z
    .enum(['meter', 'integrated', 'counted'])
    .describe('Steps of the meter are added up; a figure over time; events one by one'),
  since: time.describe('When it began to count'),
  at: timeOrNull.describe('Last time it was brought forward'),
  gapSeconds: number.describe('Time since then in which nothing could be counted'),
  uncertainSeconds: number.describe('Time that was bridged, or counted from uncertain figures'),
  u95: halfWidth,
  quality,
  today: counterPeriod.nullable().describe('Local days of the plant; null where it did not count yet'),
  yesterday: counterPeriod.nullable(),
  thisMonth: counterPeriod.nullable(),
  peak: z
    .object({ value: number, unit: text, at: time })
    .exactOptional()
    .describe('Highest value during an event, for counters of events that have one'),
  check: z
    .object({ today: number.nullable(), yesterday: number.nullable() })
    .exactOptional()
    .describe('Where a meter is read and a figure integrated too: difference as a share of the meter’s'),
  remarks: z.array(text).describe('What a person should know, in sentences'),
})
/** A counter that survives restarts. */
export type CounterView = z.output<typeof counterView>
export type CounterGroup = CounterView['group']

export const counterDaysReply = z.object({
  id: text,
  unit: text,
  timeZone: text,
  days: z
    .array(counterPeriod.extend({ date: text }))
    .describe('Every date that was asked for on which it counted, also those that were missed'),
})
export type CounterDaysReply = z.output<typeof counterDaysReply>

const indexValue = z.object({
  from: time,
  to: time,
  value: number.nullable().describe('Null when it cannot be given; the reasons say why'),
  unknownSeconds: number.describe('Time of which nothing is known; how it counts stands in the formula'),
  most: number
    .exactOptional()
    .describe(
      'What it was at most, if the unknown time was as good as can be; absent where nothing is unknown',
    ),
  quality,
  reasons: z.array(text),
})
export type IndexValue = z.output<typeof indexValue>

export const indexView = z.object({
  id: text,
  name: text,
  unit: text,
  viewUnit: text.describe('UCUM code of the unit people read it in'),
  formula: text.describe('In words, e.g. "energy ÷ (rated power × time)"'),
  needs: text.exactOptional().describe('What the plant lacks for it; then there are no values'),
  thisMonth: indexValue.nullable(),
  since: indexValue.nullable().describe('Since its counters began to count together, at most 366 days back'),
})
/** What follows from counters; computed on asking, never stored. */
export type IndexView = z.output<typeof indexView>

const topicHealth = z.object({
  topic: text,
  plant: text,
  instrument: text,
  received: number,
  faults: number,
  lastReceivedAt: timeOrNull.describe('Last packet of any kind; null if none since start'),
  everyMs: number
    .nullable()
    .describe('Usual time between two packets, learnt from the last ones; null while too few came'),
  lastFault: z.object({ at: time, message: text, example: text }).exactOptional(),
})
export type TopicHealth = z.output<typeof topicHealth>

export const queueHealth = z.object({
  name: text,
  length: number,
  limit: number,
  policy: text.describe('What happens when full, in words'),
  dropped: number,
})
export type QueueHealth = z.output<typeof queueHealth>

const certificateHealth = z.object({
  endsAt: time,
  isEnding: flag.describe('True within the last 14 days, and after'),
  fault: text.nullable().describe('Why the newest files are not used; the pair from before is'),
})
export type CertificateHealth = z.output<typeof certificateHealth>

export const healthReply = z.object({
  at: time,
  version: text,
  startedAt: time,
  stages: z.array(
    z.object({
      name: text,
      perSecond: number,
      total: number,
      faults: number,
      detail: text.exactOptional(),
    }),
  ),
  queues: z.array(queueHealth),
  topics: z.array(topicHealth),
  unmapped: z.array(z.object({ topic: text, received: number, example: text, lastReceivedAt: time })),
  unmappedDropped: number,
  source: sourceView,
  storing: z.object({ ok: flag, detail: text.exactOptional() }),
  doubts: z
    .array(plantDoubt.extend({ plant: text }))
    .describe(
      'The commissioning check of all plants: where, what stands there, and what would fit or is to be done',
    ),
  flow: z
    .object({ ok: flag, reasons: z.array(text) })
    .describe('Whether measurements come in and are kept; what keeps them from it'),
  refusedFiles: z
    .object({ at: time, complaints: z.array(text) })
    .nullable()
    .describe('Why the plant files as they are now were not taken over; null where they were'),
  lastFault: z
    .object({ at: time, message: text })
    .nullable()
    .describe('Why the server ended by itself before this start; null where it did not'),
  eventLoopDelayP99Ms: number.describe('Of the watch: how late its thread comes to what is due'),
  memoryRssBytes: number.describe('Of all processes together'),
  processes: z
    .array(z.object({ name: text, memoryRssBytes: number, eventLoopDelayP99Ms: number }))
    .describe('The watch, and the page side beside it'),
  certificate: certificateHealth
    .nullable()
    .describe('With which page and broker inside encrypt; null without'),
  pageRestarts: number.describe('How often the page side ended and was started again'),
})
export type HealthReply = z.output<typeof healthReply>

export const errorReply = z
  .object({
    error: text,
    faults: z
      .array(z.object({ path: text, received: text, expected: text }))
      .exactOptional()
      .describe('Where it was (path in the body or query), what came and what was expected'),
    needs: z
      .enum(['proof', 'secondFactor'])
      .exactOptional()
      .describe(
        'What would let it through. proof: the own password once more, at /api/session/proof; secondFactor: the code of it in the same body',
      ),
  })
  .meta({ id: 'Error' })
/** Every error answer of the HTTP interface. */
export type ErrorReply = z.output<typeof errorReply>
