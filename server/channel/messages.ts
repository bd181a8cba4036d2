import type { CertificatePair } from '../certificate.ts'
import type { Accumulated } from '../derive/accumulations.ts'
import type { EvaluatorMemory } from '../derive/evaluate.ts'
import type { MachineMemory } from '../derive/machineState.ts'
import type { Verdict } from '../derive/verdict.ts'
import type { LaneAddress } from '../history/lane/address.ts'
import type { Options } from '../options.ts'
import type { Outcome } from '../outcome.ts'
import type { Plant } from '../plant/plant.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { HealthLine, SourceView } from '../wire/plant.ts'
import type { Question } from './questions.ts'
import type { ReadingColumns } from './readingColumns.ts'

/** What goes between the watch and the page side: plain data, which survives a structured clone. */
export type ToPage = Start | Plants | Tick | AlarmStep | Answer | NewCertificate | { kind: 'close' }
export type ToWatch =
  | { kind: 'here' }
  | { kind: 'open'; url: string }
  | { kind: 'refused'; sentence: string }
  | { kind: 'taken'; tick: number }
  | { kind: 'question'; id: number; question: Question; asked: unknown }

/** Options of the page side: nothing of brokers and their passwords. */
export const PAGE_OPTIONS = [
  'data',
  'demo',
  'httpHost',
  'httpPort',
  'httpsSubdomains',
  'newSetupCode',
  'openReading',
  'pageName',
  'plants',
  'publicUrl',
  'tickMs',
] as const satisfies readonly (keyof Options)[]

export type PageOptions = Pick<Options, (typeof PAGE_OPTIONS)[number]> & {
  /** With which the page encrypts, as it is when the page side starts; null without. */
  certificate: CertificatePair | null
  /** Where it reads history. */
  historyLane: LaneAddress
}

/** The first message; the plants follow. */
export interface Start {
  kind: 'start'
  options: PageOptions
}

/** Everything about every plant: at the start of a page side, and when the plant files were read again. */
export interface Plants {
  kind: 'plants'
  plants: PlantNow[]
  /** Moment of the watch's last evaluation [ms UTC]; null where there was none since these plants were read. */
  evaluatedAt: number | null
  source: SourceView
  health: HealthLine
}

export interface PlantNow {
  plant: Plant
  isConnected: boolean
  /** All that its figures know of the readings before, so that nothing looks better than it does to the watch. */
  figures: EvaluatorMemory
  accumulated: AccumulatedFigure[]
  verdict: Verdict | null
  machine: MachineMemory
  alarms: AlarmView[]
  lastReceivedAt: number | null
}

/** What a figure that remembers stands at, by its index. */
export type AccumulatedFigure = [index: number, accumulated: Accumulated]

/** What came since the tick before. */
export interface Tick {
  kind: 'tick'
  tick: number
  /** To which the watch brought its figures [ms UTC]. */
  now: number
  readings: ReadingColumns
  /** Readings before these that were given up since the page side did not take them in. */
  lost: number
  /** By plant, in the order of `plants`. */
  isConnected: boolean[]
  /** By plant; after the evaluation, so that they count from the next one on. */
  accumulated: AccumulatedFigure[][]
  /** By plant; before the evaluation. */
  verdicts: (Verdict | null)[]
  /** By plant: views that changed. */
  alarms: AlarmView[][]
  source?: SourceView
  health?: HealthLine
}

/** A step in the life of an alarm, ahead of the tick. */
export interface AlarmStep {
  kind: 'alarm'
  plant: string
  alarm: AlarmView
}

/** From now on the page encrypts with this one. */
export interface NewCertificate {
  kind: 'certificate'
  pair: CertificatePair
}

export interface Answer {
  kind: 'answer'
  id: number
  outcome: Outcome<unknown>
}
