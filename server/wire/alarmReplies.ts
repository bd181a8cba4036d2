import { z } from 'zod'
import { quality } from './figure.ts'
import { flag, number, text, time, timeOrNull } from './shape.ts'

export const announcedState = z.enum([
  'normal',
  'unacknowledged',
  'acknowledged',
  'returnedUnacknowledged',
  'latchedUnacknowledged',
  'latchedAcknowledged',
])
/** What an alarm announces: states A to F of IEC 62682 / ISA-18.2. */
export type AnnouncedState = z.output<typeof announcedState>

export const alarmState = z.enum([...announcedState.options, 'shelved', 'suppressed', 'outOfService'])
/** States A to I of IEC 62682 / ISA-18.2; in the last three nothing is announced. */
export type AlarmState = z.output<typeof alarmState>

export const priority = z.enum(['high', 'medium', 'low'])
export type AlarmPriority = z.output<typeof priority>

export const alarmEntry = z
  .enum(['alarm', 'notice'])
  .describe('A notice is for the next visit: it asks nobody to answer and is no part of the alarm list')

/** Who keeps an alarm from being announced, since when and why. */
const withheld = z.object({ by: text, at: time, reason: text })

const onset = z.object({ from: time, to: time })
/** Within which span a condition began, as far as its instrument can tell. */
export type Onset = z.output<typeof onset>

export const alarmView = z
  .object({
    id: text,
    name: text.describe('Short text, e.g. "Over-speed"'),
    entry: alarmEntry,
    kind: text.describe('Name of the alarm kind in the plant file'),
    hasAmount: flag.describe('Whether the value of its figure says something in a sentence'),
    tellsOfLoss: flag.describe('It tells that a measurement is lost, by which other alarms are blind'),
    isForSafety: flag.describe('A class has to know of it whatever else is hidden or frozen'),
    priority,
    state: alarmState,
    active: flag.describe('The condition holds, whatever the state; false while suppressed by design'),
    unknown: flag.describe(
      'The input is missing or bad, so that it cannot be judged: not the same as normal',
    ),
    figure: text,
    limit: number
      .exactOptional()
      .describe('That was crossed, in the unit of the figure; only where one number says it all'),
    condition: text.describe('What is watched for, in words, e.g. "at or above 110 % of rated"'),
    detail: text.exactOptional().describe('What more there is to say, e.g. "at this rate reached at 21:40"'),
    value: number.nullable().describe('At the last transition, in the unit of the figure'),
    peak: number.nullable().describe('Largest (for a low alarm smallest) value since it was raised'),
    peakAt: timeOrNull,
    quality,
    raisedAt: timeOrNull.describe('When the condition was last raised; null if never'),
    returnedAt: timeOrNull.describe(
      'When the condition last went; null while it holds, and before the first raise',
    ),
    changedAt: timeOrNull.describe('When the state last changed'),
    acknowledgedAt: timeOrNull,
    acknowledgedBy: text.nullable(),
    latching: flag,
    group: text.nullable().describe('Alarms of one group have one cause'),
    after: text
      .nullable()
      .describe(
        'First-out: the alarm of its episode that it followed; null where it was, or may have been, first',
      ),
    because: text.nullable().describe('Why it can have followed from that one'),
    episode: text.nullable().describe('The episode that its last raise belongs to; null if never raised'),
    onset: onset
      .nullable()
      .describe('When its condition began: between two readings of the instrument; null if never raised'),
    shelvedUntil: timeOrNull,
    withheld: withheld.nullable().describe('Set while shelved or out of service'),
    longestShelfMs: number.describe('Longest time that it may be shelved; 0: not at all'),
    cause: text.exactOptional(),
    consequence: text.exactOptional(),
    action: text.exactOptional(),
    simulated: flag,
  })
  .meta({ id: 'Alarm' })
export type AlarmView = z.output<typeof alarmView>

export const episodeView = z
  .object({
    id: text,
    headline: text.describe('What came first, or between what that cannot be told'),
    begunAt: time,
    first: z
      .array(text)
      .describe('The alarm that came first; several where measurements cannot tell them apart'),
    alarms: z.array(text).describe('All that belong to it, in the order in which they began'),
    priority,
    active: flag.describe('The condition of one of them holds'),
    unacknowledged: number,
    latched: flag.describe('One of them waits for its reset'),
    raisedAt: time.describe('When one of them was last raised: what an acknowledgement has seen'),
  })
  .meta({ id: 'Episode' })
/** One event: alarms that share their time and a stated way from cause to consequence. */
export type EpisodeView = z.output<typeof episodeView>

const journalEvent = z.enum([
  'raise',
  'return',
  'toldLate',
  'acknowledge',
  'reset',
  'shelve',
  'unshelve',
  'shelfExpired',
  'takeOut',
  'putBack',
])
export type JournalEvent = z.output<typeof journalEvent>

const journalEntry = z.object({
  sequence: number,
  at: time,
  plant: text,
  alarm: text,
  priority: priority.describe('At that time, like the entry: the plant file may say otherwise today'),
  entry: alarmEntry,
  from: alarmState,
  to: alarmState,
  event: journalEvent,
  value: number.nullable(),
  after: text
    .exactOptional()
    .describe('On a raise: the alarm of its episode that it followed, where it was not first itself'),
  episode: text.exactOptional().describe('On the raise of an alarm: the episode that it belongs to'),
  by: text.exactOptional().describe('Who did it'),
  via: text.exactOptional().describe('From where, e.g. "page at 127.0.0.1"'),
  note: text.exactOptional(),
  until: time.exactOptional().describe('On a shelving: when it ends'),
})
/** One line of the journal. */
export type JournalEntry = z.output<typeof journalEntry>

export const journalReply = z.object({ entries: z.array(journalEntry) })
export type JournalReply = z.output<typeof journalReply>

export const performanceReply = z.object({
  from: time,
  to: time,
  raised: number.describe('Raises of alarms; notices are not counted'),
  averagePerTenMinutes: number,
  mostInTenMinutes: number.describe('Most raises in any ten minutes'),
  shareInFlood: number.describe('Share of the time in which more had come than a person can follow, 0 … 1'),
  floods: z.array(z.object({ from: time, to: time, raised: number })),
  byPriority: z.object({ high: number, medium: number, low: number }),
  topTen: z
    .array(z.object({ alarm: text, raised: number, share: number }))
    .describe('Raised most often, with their share of all raises'),
  chattering: z
    .array(z.object({ alarm: text, bursts: number, mostInOneMinute: number }))
    .describe('Raised three times or more within one minute, and how often that happened'),
  standing: z
    .array(z.object({ alarm: text, since: time, hours: number }))
    .describe('Active for more than 24 h without a break'),
  acknowledged: number,
  medianAcknowledgeSeconds: number.nullable().describe('From raise to acknowledgement; null where none was'),
  longestAcknowledgeSeconds: number.nullable(),
  neverAcknowledged: number.describe('Raises in the span that nobody had acknowledged at its end'),
  shelvings: number,
})
/** The alarms of one span against the measures of IEC 62682 / ISA-18.2. */
export type AlarmPerformance = z.output<typeof performanceReply>
