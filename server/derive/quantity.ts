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
  /**
   * UCUM code people read it in, where not `unit`; plants with large ratings read W in kW and so on. A temperature is
   * read in Cel, a difference of temperatures in K: that tells the two apart.
   */
  view?: string
  group: FigureGroup
  /** True, but not what somebody who looks after the plant comes for: other figures are computed with it, or a designer
   * compares it. The page folds it away below the others. */
  background?: true
  ways: readonly Way[]
  /** What has to be steady for this figure to mean what it says; it is uncertain while that is not (storageWatch.ts). */
  steady?: readonly Storage[]
  /** People read exactly `view`, whatever the size of the plant. */
  fixedView?: true
  /** What has to hold for it to be believed, measured or derived; the first that does not makes it uncertain (likely.ts). */
  likely?: readonly Likelihood[]
}

export interface Likelihood {
  /** Condition over `x`, the figure itself, `u_95`, its ±, and what follows. Left out where the plant lacks something. */
  test: string
  /** A measured figure is held against measured ones alone. */
  inputs?: Readonly<Record<string, string>>
  constants?: Readonly<Record<string, string>>
  applies?: (plant: Plant) => boolean
  /** What cannot be, and the likely slip. */
  otherwise: string
}

/** A figure as its group writes it down: its one way stands beside what it is, several are a list. */
export type FigureRecord = Quantity | (Omit<Quantity, 'ways'> & Way)

/** Where energy hides while something changes. */
export type Storage = 'rotor' | 'water'

/** The figures that tell (storageWatch.ts). */
export const STORAGE_FIGURES: Readonly<Record<Storage, readonly string[]>> = {
  rotor: ['kineticPower', 'hydraulicPower'],
  water: ['netHeadSlope', 'waterStartTime'],
}

export interface Way {
  formula: string
  /** Symbol → quantity id. A list of all that there are is "jetOpen.*", one that has to be whole "phaseVoltage.1..3". */
  inputs: Readonly<Record<string, string>>
  /** What an input or a constant counts as at a plant that does not have it. */
  defaults?: Readonly<Record<string, Default>>
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
  /** What its standard is known for: outside of it the value stays, uncertain. Left out as above. */
  limits?: readonly Omit<ValidityFloor, 'isFault'>[]
  /** Outside of this the figure is shown but flagged as impossible, never clamped. */
  possible?: { low: number; high: number; suspects: string }
  /** The formula is slope(x) or meanOverTime(x) of its one input, over this long [s] (windows.ts). */
  window?: { seconds: number; take: 'slope' | 'mean' }
  source: string
}

export interface Default {
  value: number
  /** UCUM code of the SI unit. */
  unit: string
  /** For people, e.g. "not measured, counted as nothing". */
  says: string
}

/** A power that nobody measures, such as that of a load which is not there. */
export const NOT_MEASURED: Default = { value: 0, unit: 'W', says: 'not measured, counted as nothing' }

export interface Amount {
  value: number
  unit: string
  /** Where it is written, for people. */
  path: string
  /** What it may be off by; with a source where that is an assumption. */
  plusMinus?: { fixed: number; source?: string }
}

export interface ValidityFloor {
  /** Condition over the way's symbols. */
  test: string
  constants?: Readonly<Record<string, string>>
  /** Why it is blank, e.g. "hydraulic power below 5 % of rated". */
  otherwise: string
  /** An instrument must be wrong: the figure is bad then, and its alarms are blind. Else it only means nothing now. */
  isFault?: true
}

/**
 * Blank while power goes into the machine: more than 1 % of what it is rated for, as for its state. Of a plant file without
 * `generator.ratedPower` nobody can tell that from the noise of the meter.
 */
export function whileNotMotoring(power: string): ValidityFloor {
  return {
    test: `${power} >= -0.01 * rated`,
    constants: { rated: 'generator.ratedPower' },
    otherwise: 'the machine is motoring: power goes into it',
  }
}

/**
 * Blank up to this share of a rated value, where the plant file states it.
 *
 * @param amount Symbol or formula, and its name for people, e.g. `{ P: 'active power' }`.
 * @param rated Constant of the plant file, e.g. "generator.ratedPower".
 */
export function aboveShare(
  share: number,
  amount: Readonly<Record<string, string>>,
  rated: string,
): ValidityFloor {
  const [[what, name]] = Object.entries(amount) as [[string, string]]
  return {
    test: `${what} > ${share} * rated`,
    constants: { rated },
    otherwise: `${name} is below ${Number((100 * share).toPrecision(3))} % of rated`,
  }
}

/** The same, and blank at zero whether it is stated or not: `{ P: ['active power', 'nothing is generated'] }`. */
export function awayFromZero(
  share: number,
  amount: Readonly<Record<string, readonly [name: string, atZero: string]>>,
  rated: string,
): ValidityFloor[] {
  const [[what, [name, atZero]]] = Object.entries(amount) as [[string, [string, string]]]
  return [aboveShare(share, { [what]: name }, rated), { test: `${what} > 0`, otherwise: atZero }]
}

export type CurvePath =
  | 'turbine.efficiencyCurve'
  | 'turbine.nozzleCurve'
  | 'generator.efficiencyCurve'
  | 'inverter.efficiencyCurve'
  | 'pump.headCurve'
  | 'forebay.volumeCurve'

/** "jetOpen.*" and "phaseVoltage.1..3". */
const LIST = /^(.+)\.(?:\*|(\d+)\.\.(\d+))$/

export function isListId(id: string): boolean {
  return LIST.test(id)
}

/** The figures that an input stands for; undefined where the instruments of a plant tell, as for "jetOpen.*". */
export function membersOfList(id: string): string[] | undefined {
  const [, family, first, last] = LIST.exec(id) ?? []
  if (family === undefined) return [id]
  if (first === undefined) return undefined
  return Array.from({ length: Number(last) - Number(first) + 1 }, (_, k) => `${family}.${Number(first) + k}`)
}

/** What a plant does not have but the way can do without becomes an amount beside the formula. */
export function countDefaults(way: Way, absent: readonly string[]): Way {
  const isThere = ([symbol]: [string, string]) => !absent.includes(symbol)
  const amounts = absent.map((symbol) => {
    const { value, unit, says } = way.defaults![symbol]!
    return [symbol, { value, unit, path: says }]
  })
  return {
    ...way,
    inputs: Object.fromEntries(Object.entries(way.inputs).filter(isThere)),
    constants: Object.fromEntries(Object.entries(way.constants ?? {}).filter(isThere)),
    amounts: { ...way.amounts, ...Object.fromEntries(amounts) },
  }
}

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

/** Turbine and generator turn at different speeds, by a belt or a gear. */
export function hasDrive({ turbine }: Plant): boolean {
  return turbine !== undefined && turbine.driveRatio !== 1
}

/** Free jets from nozzles. */
export function hasJets({ turbine }: Plant): boolean {
  return turbine?.kind === 'pelton' || turbine?.kind === 'turgo'
}

/** Jets whose needle is measured. */
export function spearsOf({ instruments }: Plant): number {
  return instruments.filter((one) => one.quantity.startsWith('needleStroke.')).length
}

/** Jets without needles: the opening of a nozzle is all or nothing. */
export function hasFixedNozzles(plant: Plant): boolean {
  return hasJets(plant) && spearsOf(plant) === 0
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
  return ['discharge', 'meterPressureDifference', 'indexPressureDifference'].some((one) =>
    isMeasured(plant, one),
  )
}
