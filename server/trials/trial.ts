import type { Plant } from '../plant/plant.ts'
import type { SeriesRule } from '../wire/findings.ts'
import type { Caution } from '../wire/plant.ts'
import type { Stage } from './balance/balanceTable.ts'
import type { Check } from './checks/check.ts'
import type { Theory } from './theory/theory.ts'

/**
 * A guided test: which figure is drawn over which, what is held meanwhile, and the curve through the points. It is
 * data; capture, guidance, fit and page are the same for all.
 */
export interface Trial {
  id: string
  name: string
  aim: string
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
  /** Why the trial makes no sense at this plant; undefined where it does. */
  refuse?: (plant: Plant) => string | undefined
  cautions: readonly Caution[]
  method: readonly string[]
  /** A sentence for the eye, or one with a rule that can tell. */
  checks: readonly (string | Check)[]
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
