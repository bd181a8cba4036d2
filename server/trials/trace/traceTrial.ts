import type { Plant } from '../../plant/plant.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { Caution } from '../../wire/plant.ts'

/**
 * A guided test that records what happens over time. Like a trial of points it is data; recording, guidance, storing,
 * reduction and page are the same for all.
 */
export interface TraceTrial {
  id: string
  name: string
  aim: string
  /** Quantity that is drawn first. */
  main: (plant: Plant) => string
  /** Quantities that are recorded, families ("jetOpen") with all their members. The first ones must be there. */
  needs: (plant: Plant) => readonly string[]
  record: (plant: Plant) => readonly string[]
  /** What must hold at some moment before a trace can begin; e.g. the speed is high enough. */
  ready: (plant: Plant) => readonly Condition[]
  begin: BeginRule
  /** Ends the trace; undefined: only time or a person does. */
  end?: (plant: Plant) => Condition
  words: { begins: string; ends: string; typed?: string }
  secondsBefore: number
  longestSeconds: number
  /** Ends so long after the trigger [s]; default `longestSeconds`. */
  secondsAfter?: number
  repeats: number
  afterRestart: 'goOn' | 'close'
  /** Id of a reduction in reductions/. */
  reduction: string
  /** What the reduction needs of the plant file, in SI; a missing one is left out. */
  constants: (plant: Plant) => Readonly<Record<string, number>>
  /** A figure that is typed, with the main quantity, e.g. a known loss. */
  typed?: FigureDescription
  refuse?: (plant: Plant) => string | undefined
  cautions: readonly Caution[]
  method: readonly string[]
  checks: readonly string[]
}

/** Holds while `low` ≤ figure ≤ `high`; a family means all its members. */
export interface Condition {
  label: string
  figure: string
  /** SI; a missing end is no limit. */
  low?: number
  high?: number
  /** Said of a figure that stands against it, e.g. "is open". */
  words: string
  advice: string
}

/** conditions: all hold and the main quantity falls · change: a figure jumps within 2 s · atOnce: when armed. */
export type BeginRule =
  | { kind: 'conditions'; all: (plant: Plant) => readonly Condition[] }
  | { kind: 'change'; of: (plant: Plant) => readonly Jump[] }
  | { kind: 'atOnce' }

/** A change that begins a trace: by at least so much [SI], in one direction only where `sign` says so. */
export interface Jump {
  figure: string
  by: number
  sign?: 1 | -1
}
