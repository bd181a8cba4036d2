import type { Counters } from '../../derive/counters.ts'
import type { FigureLookupById } from '../../derive/lookup.ts'
import type { Plant } from '../../plant/plant.ts'
import type { AlarmFile } from '../../plant/schema.ts'
import type { AlarmPriority, AlarmView } from '../../wire/alarm.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { PlantExpression } from '../expression.ts'
import type { ConditionState, RawSample } from '../inputs.ts'

/** A moment at which conditions are judged, and what is so then. */
export interface Moment {
  /** Wall clock [ms UTC]. */
  now: number
  mono: number
  /** The plant file says that the condition means nothing now. */
  isIdle: boolean
  /** Time [ms] since any reading came in from the plant; infinite before the first. */
  quietMs: number
}

/** Watches one condition. Delays and life cycle are the same for all kinds and lie outside. */
export interface ConditionWatcher {
  /** Quantities of which it wants every reading, as it arrives; left out: none. */
  watches?: readonly string[]
  /** Whether it wants those too that came after others with later times. */
  takesLate?: true
  /** Whether it wants every reading whose source is in doubt, of whatever instrument. */
  watchesDoubt?: true
  /** The raw path: before any filter, delay or derivation. */
  takeSample?(sample: RawSample): ConditionState
  /** Judges a reading of long ago by itself; undefined where the condition did not hold then. */
  judgePast?(sample: RawSample): Pick<ConditionState, 'value' | 'at' | 'quality'> | undefined
  /** Called after the figures were evaluated. */
  judge(moment: Moment): ConditionState
  /** True when `a` is further beyond the limit than `b`; left out where there is no amount that gets worse. */
  isWorse?(a: number, b: number): boolean
  /** A sentence on how things stand, where there is more to say than value and limit. */
  detail?(): string | undefined
}

/** Where alarms look up counters: as of the last tick, and by local days. Nothing is there of what the plant has not. */
export type CounterLookup = Pick<Counters, 'views' | 'days'>

/** What a watcher needs of the running plant. */
export interface WatcherInputs {
  figures: FigureLookupById
  counters: CounterLookup
  /** Time between two readings of its figure [ms]; 0 for what is sent on change. */
  periodMs: number
  /** Whether the condition held before the server was restarted: inside the deadband it goes on holding. */
  wasHeld: boolean
  /** What is said against instruments now, a sentence each. */
  suspicions(): readonly string[]
  /** Value of an expression of the plant file now; NaN while an input is missing. */
  evaluate(expression: PlantExpression): number
}

/** One alarm of the plant file as its kind has read it. */
export interface WatchedCondition {
  /** What is watched for, in words. */
  condition: string
  /** In SI, where one number says it all. */
  limit?: number
  /** The figure to show with it, where the plant file names none. */
  figure?: string
  /** Figures without which nobody can judge. */
  uses: readonly string[]
  open(inputs: WatcherInputs): ConditionWatcher
}

/** The alarm that is being read, and how to read its amounts. */
export interface FieldReader {
  file: AlarmFile
  plant: Plant
  /** The figure that `figure` names. */
  figure: FigureDescription
  /** SI value of a level such as "110 % of rated" or "0.15 m". @throws {AmountFault} */
  level(field: keyof AlarmFile, text?: string): number
  /** The same for a difference such as a deadband. @throws {AmountFault} */
  difference(field: keyof AlarmFile, text?: string): number
  /** An expression over figures in the unit of `unit`. @throws {AmountFault} */
  expression(field: 'from'): PlantExpression
  /** Deadband in SI; by default a hundredth of the limit. @throws {AmountFault} */
  deadband(limit: number): number
}

/** Carries one fault out of the reading of an alarm; caught in settings.ts and reported, never shown raw. */
export class AmountFault extends Error {
  override name = 'AmountFault'

  constructor(
    readonly field: keyof AlarmFile,
    readonly expected: string,
  ) {
    super(`${field}: expected ${expected}`)
  }
}

/** How an alarm kind reads its part of the plant file and judges. */
export interface AlarmKind {
  /** Its name in the plant file. */
  id: string
  /** Whether its figure says something in a message: of a switch or a silence there is no amount to tell. */
  hasAmount: boolean
  /** The loss of measurement that it tells of, if any: of its figure, or of the whole plant. */
  lossOf?: 'figure' | 'plant'
  /** Its limit is a value that its figure can have, not a change or a distance. */
  hasLevel?: true
  /** Never delayed and never shelved, always recorded, and seen by a class whatever is hidden. */
  isForSafety: boolean
  /** Fields that must be there beside those that every alarm has. */
  needs: readonly (keyof AlarmFile)[]
  /** Fields that may be there. */
  may: readonly (keyof AlarmFile)[]
  /** @throws {AmountFault} */
  read(fields: FieldReader): WatchedCondition
}

/** An alarm of the plant file, ready to be watched. */
export interface AlarmSetting extends WatchedCondition {
  id: string
  name: string
  entry: 'alarm' | 'notice'
  kind: AlarmKind
  /** The figure to show with it; "" where there is none. */
  figure: string
  priority: AlarmPriority
  latching: boolean
  onDelayMs: number
  offDelayMs: number
  /** Condition without which it means nothing. */
  while?: PlantExpression
  group: string | null
  longestShelfMs: number
  /** Whether a trace is kept when it is raised. */
  isRecorded: boolean
  /** What the plant file says to whoever answers it. */
  texts: Pick<AlarmView, 'cause' | 'consequence' | 'action'>
}
