import type { Quality, UtcMs } from './figure.ts'

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

export interface PointName {
  run: number
  number: number
}

/** One figure of a record as the class saw it. */
export interface RecordFigure {
  id: string
  name: string
  unit: string
  viewUnit: string
  value: number | null
  u95?: number
  at: UtcMs | null
  quality: Quality
  reasons: string[]
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

/** GET /api/seat: what a phone shows beside the live figures. */
export interface SeatReply {
  lesson: number
  title: string
  plantName: string
  /** Where to read live figures. */
  scene: string
  group: { number: number; name: string }
  state: 'open' | 'ended'
  endsAt: UtcMs
  /** Own group, newest first. */
  records: RecordView[]
  /** Own prediction to the present question. */
  prediction: { value: number; u: number | null } | null
  /** Points of the guided run that is under way, newest first. */
  points: { run: number; number: number; at: UtcMs; setting: string; isTaken: boolean }[]
  /** How long [ms] after a press it can still be stored. */
  latestMs: number
}

/** POST /api/seat */
export interface SeatRequest {
  code: string
  group: string
}

/** POST /api/seat/records */
export interface RecordRequest {
  /** Made by the phone: a press that is sent again makes no second row. */
  key: string
  /** How long ago it was pressed [ms]. */
  ageMs: number
  remark?: string
  /** Takes this point of the guided run in place of the figures at the press. */
  point?: PointName
}

/** POST /api/seat/predictions; in the figure's SI unit. */
export interface PredictionRequest {
  question: number
  value: number
  /** The group's own ±. */
  u?: number
}

export interface LessonSummary {
  id: number
  plant: string
  title: string
  openedAt: UtcMs
  openedBy: string
  endsAt: UtcMs
  endedAt: UtcMs | null
  groups: number
  records: number
}

/** GET /api/lessons/:l: the instructor's desk. */
export interface DeskReply {
  lesson: LessonSummary
  /** Null once the lesson has ended. */
  code: string | null
  /** What is shown: the plant, or another scene. */
  source: string
  /** What phones open, and how many may; null when no phone can reach this server. */
  join: JoinView | null
  /** Why no phone can join, or what to look to. */
  joinNote: string
  seats: number
  mostSeats: number
  groups: { number: number; name: string; phones: number; records: number; hasPredicted: boolean }[]
  /** Ids that the instructor hid. */
  hidden: string[]
  /** What is hidden besides, since it follows from those. */
  alsoHidden: string[]
  /** Shown figures from which a hidden one can be worked out. */
  leads: { hidden: string; from: string[] }[]
  /** As the class sees it; null once it has ended. */
  view: LessonView | null
  questions: QuestionView[]
  points: { run: number; number: number; setting: string }[]
}

export interface JoinView {
  address: string
  /** Other addresses under which this server can perhaps be reached. */
  others: string[]
  /** Side of the square in modules, with its margin, and the dark ones as an SVG path. */
  qr: { size: number; path: string }
}

/** POST /api/lessons/:l/arrange: only what is to change. */
export interface ArrangeRequest {
  title?: string
  numbers?: string[]
  hidden?: string[]
  explained?: string | null
  source?: string
}
