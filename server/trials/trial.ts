import type { Plant } from '../plant/plant.ts'
import type { FigureDescription } from '../wire/figure.ts'
import type { SeriesRule } from '../wire/findings.ts'
import type { Caution } from '../wire/plant.ts'
import type { TraceTrialView } from '../wire/trial.ts'
import type { Stage } from './balance/balanceTable.ts'
import type { Check, PointCheckInput, TraceCheckInput } from './checks/check.ts'
import type { Theory } from './theory/theories.ts'

/** A guided test. It is data; guidance, capture or recording, storing, results, pack and page are the same for all. */
export type Trial = PointTrial | TraceTrial

interface TrialHead<CheckInput> {
  id: string
  name: string
  aim: string
  /** Why the trial makes no sense at this plant; undefined where it does. */
  refuse?: (plant: Plant) => string | undefined
  cautions: readonly Caution[]
  method: readonly string[]
  /** A sentence for the eye, or one with a rule that can tell. */
  checks: readonly Check<CheckInput>[]
}

/** Takes points: which figure is drawn over which, what is held meanwhile, and the curve through the points. */
export interface PointTrial extends TrialHead<PointCheckInput> {
  takes: 'points'
  abscissa: string
  ordinate: string
  hold: readonly Hold[]
  /** How a person changes the abscissa. */
  by: (plant: Plant) => string
  /** Values of the abscissa worth visiting, as shares of a constant of the plant file. */
  suggest: {
    reference: string
    shares: (plant: Plant) => readonly number[]
    /** Where nothing between can be set. */
    isStepped?: (plant: Plant) => boolean
  }
  /** The curve in quantities that do not depend on the head. */
  unit?: { abscissa: string; ordinate: string }
  /** Further figures that a point stores, where the plant has them. */
  record: readonly string[]
  /** Largest scatter, and largest movement within a window, as a share of the figure. */
  steady: Readonly<Record<string, number>>
  /** The first that applies is used. */
  fits: readonly FitChoice[]
  /** What the plant file predicts, drawn beside the points. */
  theory?: (plant: Plant) => Theory | undefined
  /** Other curves through the same points. */
  further?: readonly ({ name: string } & FitChoice)[]
  /** Ways of doing it that are held against each other, the first against the second. */
  series?: (plant: Plant) => readonly SeriesRule[]
  /** Stages whose powers are balanced at every point. */
  stages?: readonly Stage[]
}

export interface Hold {
  figure: string
  /** Constants of the plant file, the first that is there. Without any the quantity is not held. */
  target: readonly string[]
  /** A target that no plant file gives, e.g. full speed of a drive; the tolerance is a share of it. */
  fixed?: number
  /** Target as a share of that constant; default 1. */
  share?: number
  /** As a share of the constant. */
  tolerance: number
  low: string
  high: string
}

export interface FitChoice {
  /** Id of a curve in fit/models. */
  model: string
  applies?: (plant: Plant) => boolean
  /** Symbol of the curve → figure, besides x and y. */
  symbols?: Readonly<Record<string, string>>
  /** Symbol of the curve → constant of the plant file. */
  constants?: Readonly<Record<string, string>>
  /** Whether its maximum is wanted. */
  best?: true
  /** Both axes scatter, so both scatters weigh: set it where u(x)·|dy/dx| is not small against u(y). */
  inBoth?: true
}

/** Takes traces: what begins and ends one, what is recorded, and the numbers that each is reduced to. */
export interface TraceTrial extends TrialHead<TraceCheckInput> {
  takes: 'traces'
  /** Quantity that is drawn first. */
  main: (plant: Plant) => string
  /** Quantities that must be there; families ("jetOpen") with all their members. */
  needs: (plant: Plant) => readonly string[]
  /** Further ones that are recorded where the plant has them. */
  record: readonly string[]
  /** What must hold at some moment before a trace can begin; e.g. the speed is high enough. */
  ready?: (plant: Plant) => readonly Condition[]
  begin: (plant: Plant) => BeginRule
  /** Ends the trace; undefined: only time or a person does. */
  end?: (plant: Plant) => Condition
  words: Pick<TraceTrialView, 'begins' | 'ends'>
  secondsBefore: number
  longestSeconds: number
  repeats: number
  afterRestart: TraceTrialView['afterRestart']
  /** Id of a reduction in trace/reductions. */
  reduction: string
  /** What the reduction needs of the plant file, in SI; one that the file does not give is undefined. */
  constants: (plant: Plant) => Readonly<Record<string, number | undefined>>
  /** A figure that is typed with the main quantity, e.g. a known loss, and what it is good for. */
  typed?: { figure: FigureDescription; words: string }
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
  | { kind: 'conditions'; all: readonly Condition[] }
  | { kind: 'change'; of: readonly Jump[] }
  | { kind: 'atOnce' }

/** A change that begins a trace: by at least so much [SI], in one direction only where `sign` says so. */
export interface Jump {
  figure: string
  by: number
  sign?: 1 | -1
}
