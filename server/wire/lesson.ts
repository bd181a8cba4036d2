import { z } from 'zod'
import type { Units } from './amounts.ts'
import type { FigureValue, UtcMs } from './figure.ts'
import { qrView } from './qr.ts'
import { figureId, flag, number, objectOf, text, textUpTo, time, timeOrNull } from './shape.ts'

/** A lesson: an instructor shows figures, groups mark records and predict. Shared by server and browser. */

/** Whether the plant holds still, by the figures that a reading needs. */
export interface SteadyLamp {
  state: 'hold' | 'steady' | 'unknown'
  /** In words, e.g. "Discharge is still moving." */
  sentence: string
}

/** What a scene of a lesson says beside its figures; in the stamp of every snapshot. */
export interface LessonView {
  id: number
  title: string
  /** Moment of the figures while they are frozen; null while they go on. */
  frozenAt: UtcMs | null
  /** Ids of the figures for the large screen, at most six. */
  numbers: string[]
  /** Figure whose formula is explained on the large screen. */
  explained: string | null
  /** From the switches, e.g. "jets 1, 2 · loads 2". */
  setting: string
  steady: SteadyLamp
  question: QuestionView | null
  /** Counts what changed beside the figures: groups, questions, settings. */
  revision: number
}

/** asked: groups predict · closed: no more predictions · revealed: with the true figure. */
export type QuestionState = 'asked' | 'closed' | 'revealed'

export interface QuestionView {
  number: number
  text: string
  figure: string
  state: QuestionState
  /** How many groups have predicted. */
  predicted: number
  /** Only once revealed. */
  reveal: RevealView | null
}

export interface RevealView {
  truth: Truth
  /** Ascending, in the figure's SI unit; without names. */
  predictions: number[]
  mean: number | null
  median: number | null
  /** Predictions within the 95 % interval of the true figure. */
  within: number
  /** Predictions whose own ± covers the true figure, of those that gave one. */
  covering: number
  withOwnRange: number
}

/** The figure as it was when it was revealed. */
export interface Truth {
  value: number
  u95: number | null
  at: UtcMs | null
  /** Point of the guided run that it is of; null for the moment of the reveal. */
  point: PointName | null
  setting: string
}

const count = z.number().int().min(1)
export const pointName = z
  .strictObject({ run: count, number: count })
  .describe('A captured point of the guided run that is under way')
export type PointName = z.output<typeof pointName>

/** One figure of a record as the class saw it. */
export interface RecordFigure extends FigureValue, Units {
  id: string
  name: string
}

/** A row that a group marked. What it holds is never changed. */
export interface LessonRecord {
  number: number
  group: number
  /** Name of the group at that time. */
  groupName: string
  /** When somebody pressed; of a captured point the end of its window. */
  pressedAt: UtcMs
  /** When it was stored. */
  storedAt: UtcMs
  /** Moment that the figures are of: frozen, replayed, or the moment of the press. */
  shownAt: UtcMs
  shown: 'live' | 'frozen' | 'replay'
  setting: string
  steady: SteadyLamp
  point: PointName | null
  prediction: { question: number; value: number; u: number | null } | null
  figures: RecordFigure[]
}

/** A record with what may be added to it later. */
export interface RecordView extends Omit<LessonRecord, 'figures'> {
  /** The figures for a list; the pack has all. */
  figures: Pick<RecordFigure, 'id' | 'value' | 'u95' | 'quality'>[]
  remark: string
  /** Why it was struck out; null where it was not. */
  struck: string | null
}

export const seatReply = z.object({
  lesson: number,
  title: text,
  plantName: text,
  scene: text.describe('Where to read live figures'),
  group: z.object({
    number,
    name: text,
    word: text.describe('What a further phone of the group types to join'),
  }),
  state: z.enum(['open', 'ended']),
  endsAt: time,
  records: z.array(objectOf<RecordView>('A row that the group marked')).describe('Own group, newest first'),
  prediction: z
    .object({ question: number, value: number, u: number.nullable() })
    .nullable()
    .describe('Own prediction to the present question'),
  points: z
    .array(z.object({ run: number, number, at: time, setting: text, isTaken: flag }))
    .describe('Of the guided run that is under way, newest first'),
  latestMs: number.describe('How long after a press it can still be stored'),
})
/** What a phone shows beside the live figures. */
export type SeatReply = z.output<typeof seatReply>

export const groupName = z
  .string()
  .transform((typed) => typed.normalize('NFKC').trim().replace(/\s+/g, ' '))
  .refine((typed) => /^[\p{L}\p{M}\p{N} .,'’_+&-]{1,30}$/u.test(typed), {
    error: 'expected 1 to 30 letters, digits or spaces',
  })

export const seatRequest = z.strictObject({
  code: z.string().max(40),
  group: groupName,
  word: z
    .string()
    .max(40)
    .exactOptional()
    .describe('To join a group that is there already: its first phone shows it'),
})
export type SeatRequest = z.input<typeof seatRequest>

const LONGEST_AGE_MS = 30 * 86_400_000
export const recordRequest = z.strictObject({
  key: z
    .string()
    .regex(/^[0-9A-Za-z_-]{8,64}$/, { error: 'expected 8 to 64 letters and digits' })
    .describe('Made by the phone: a press that is sent again makes no second row'),
  ageMs: z
    .number()
    .min(0)
    .max(LONGEST_AGE_MS)
    .describe('How long ago it was pressed [ms]; later than two minutes it is refused'),
  remark: textUpTo(300).exactOptional(),
  point: pointName.exactOptional().describe('Takes this point in place of the figures at the press'),
})
export type RecordRequest = z.input<typeof recordRequest>

export const predictionRequest = z.strictObject({
  question: count,
  value: z.number().describe('SI unit of the figure'),
  u: z.number().nonnegative().exactOptional().describe('Own ±, SI unit'),
})
export type PredictionRequest = z.input<typeof predictionRequest>

export const lessonSummary = z
  .object({
    id: number,
    plant: text,
    title: text,
    openedAt: time,
    openedBy: text,
    endsAt: time,
    endedAt: timeOrNull,
    groups: number,
    records: number,
  })
  .meta({ id: 'Lesson' })
export type LessonSummary = z.output<typeof lessonSummary>

const joinView = z.object({
  address: text,
  others: z.array(text).describe('Other addresses under which this server can perhaps be reached'),
  qr: qrView,
})
/** What phones open. */
export type JoinView = z.output<typeof joinView>

export const deskReply = z.object({
  lesson: lessonSummary,
  code: text.nullable().describe('Null once the lesson has ended'),
  source: text.describe('What is shown: the plant, or another scene'),
  join: joinView.nullable().describe('What phones open; null when none can reach this server'),
  joinNote: text.describe('Why no phone can join, or what to look to'),
  seats: number,
  mostSeats: number,
  isClosed: flag.describe('Nobody can join'),
  groups: z.array(
    z.object({ number, name: text, word: text, phones: number, records: number, hasPredicted: flag }),
  ),
  struck: z
    .array(z.object({ number, groupName: text, reason: text }))
    .describe('Records that groups struck out'),
  hidden: z.array(text).describe('Ids that the instructor hid'),
  alsoHidden: z.array(text).describe('What is hidden besides, since it follows from those'),
  leads: z
    .array(z.object({ hidden: text, from: z.array(text) }))
    .describe('Shown figures from which a hidden one can be worked out'),
  view: objectOf<LessonView>('As the class sees it; null once it has ended').nullable(),
  questions: z.array(objectOf<QuestionView>('A question, and what came of it')),
  points: z.array(z.object({ run: number, number, setting: text })),
})
/** The instructor's desk. */
export type DeskReply = z.output<typeof deskReply>

export const arrangeRequest = z.strictObject({
  title: textUpTo(80).min(1).exactOptional(),
  numbers: z.array(figureId).max(6).exactOptional(),
  hidden: z.array(figureId).max(200).exactOptional(),
  explained: figureId.nullable().exactOptional(),
  source: textUpTo(64).min(1).exactOptional().describe('The plant, or another scene of it, such as a replay'),
})
/** Only what is to change. */
export type ArrangeRequest = z.input<typeof arrangeRequest>
