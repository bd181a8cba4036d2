import type { Plant } from '../plant/plant.ts'
import type { FigureGroup } from '../wire/figure.ts'

/**
 * A figure that can be computed: what it is, and one or more ways to get it, best first. The formula text is
 * what computes, what is checked for units, and what is shown to people.
 */
export interface Quantity {
  /** Glossary name, e.g. "netHead". */
  id: string
  name: string
  symbol: string
  /** UCUM code of the SI unit. */
  unit: string
  /** UCUM code people read it in; plants with large ratings read W in kW and so on. */
  view: string
  group: FigureGroup
  ways: readonly Way[]
  /** What has to be steady for this figure to mean what it says; it is uncertain while that is not (steadiness.ts). */
  steady?: readonly Storage[]
  /** People read exactly `view`, whatever the size of the plant. */
  fixedView?: true
}

/** Where energy hides while something changes. */
export type Storage = 'rotor' | 'water'

/** The figures that tell (steadiness.ts). */
export const STORAGE_FIGURES: Readonly<Record<Storage, readonly string[]>> = {
  rotor: ['kineticPower', 'hydraulicPower'],
  water: ['netHeadSlope', 'waterStartTime'],
}

export interface Way {
  formula: string
  /** Symbol → quantity id; "jetOpen.*" stands for all of them, as a list. */
  inputs: Readonly<Record<string, string>>
  /** Symbol → constant of the plant file, e.g. "turbine.inletBore". */
  constants?: Readonly<Record<string, string>>
  /** Symbol → amount given beside the formula, in the SI unit with this UCUM code. */
  amounts?: Readonly<Record<string, Amount>>
  /** Function name → curve of the plant file, e.g. "generator.efficiencyCurve". */
  curves?: Readonly<Record<string, CurvePath>>
  /** Only at plants for which this holds. */
  applies?: (plant: Plant) => boolean
  /** Set where something was assumed; says what, for people. */
  estimated?: string
  /** Below these the figure is left blank. A test whose constants the plant lacks is left out. */
  valid?: readonly ValidityFloor[]
  /** Outside of this the figure is shown but flagged as impossible, never clamped. */
  possible?: { low: number; high: number; suspects: string }
  /** The formula is slope(x) or meanOverTime(x) of its one input, over this long [s] (windows.ts). */
  window?: { seconds: number; take: 'slope' | 'mean' }
  source: string
}

export interface Amount {
  value: number
  unit: string
  /** Where it is written, for people. */
  path: string
}

export interface ValidityFloor {
  /** Condition over the way's symbols. */
  test: string
  constants?: Readonly<Record<string, string>>
  /** Why it is blank, e.g. "hydraulic power below 5 % of rated". */
  otherwise: string
}

export type CurvePath =
  | 'turbine.efficiencyCurve'
  | 'turbine.nozzleCurve'
  | 'generator.efficiencyCurve'
  | 'inverter.efficiencyCurve'
  | 'pump.headCurve'
  | 'forebay.volumeCurve'

/** Free jet at the runner: the reference level is the jet, not the tailwater. */
export function isImpulse({ turbine }: Plant): boolean {
  if (turbine?.kind === 'crossflow') return !turbine.draftTube
  return turbine?.kind === 'pelton' || turbine?.kind === 'turgo'
}

export function isReaction(plant: Plant): boolean {
  return plant.turbine !== undefined && !isImpulse(plant)
}

/** The electrical frequency follows the shaft exactly (no slip). */
export function isSynchronous(plant: Plant): boolean {
  return plant.generator !== undefined && ['permanentMagnet', 'synchronous'].includes(plant.generator.kind)
}

export function isInduction({ generator }: Plant): boolean {
  return generator?.kind === 'induction'
}

/** Free jets from nozzles. */
export function hasJets({ turbine }: Plant): boolean {
  return turbine?.kind === 'pelton' || turbine?.kind === 'turgo'
}

/** Jets without needles: the opening of a nozzle is all or nothing. */
export function hasFixedNozzles(plant: Plant): boolean {
  return hasJets(plant) && !plant.instruments.some((one) => one.quantity.startsWith('needleStroke.'))
}

/** Speed and frequency are both measured, so that one can be held against the other. */
export function isSynchronousMeasured(plant: Plant): boolean {
  return isSynchronous(plant) && isMeasured(plant, 'speed') && isMeasured(plant, 'frequency')
}

/** By instruments of their own: what is computed from a thing cannot check it. */
export function isMeasured({ instruments }: Plant, ...quantities: string[]): boolean {
  return quantities.every((quantity) => instruments.some((one) => one.quantity === quantity))
}

export function isMagnet({ generator }: Plant): boolean {
  return generator?.kind === 'permanentMagnet'
}

/** A meter tells the discharge, so that it can be held against what the nozzles should pass. */
export function isFlowMeasured(plant: Plant): boolean {
  return isMeasured(plant, 'discharge') || isMeasured(plant, 'meterPressureDifference')
}
