import type { Plant } from '../../plant/plant.ts'
import type { FigureLookupById } from '../lookup.ts'
import type { Look } from './kind.ts'

/** Share of the rated speed and power from which a machine counts as running (trade practice, no source). */
export const RUNNING_SPEED = 0.2
export const RUNNING_POWER = 0.01
/** Ends below these shares, so that a machine at the edge does not start again and again [default]. */
const STOPPED_SPEED = 0.15
export const STOPPED_POWER = 0.005
export function forward(value: number): number {
  return Math.max(value, 0)
}

export function backward(value: number): number {
  return Math.max(-value, 0)
}

/** The figure itself or one of its family: "tripped", "tripped.2". */
export function isOf(family: string, figure: string): boolean {
  return figure === family || figure.startsWith(`${family}.`)
}

/**
 * Power over speed, both as shares of the rating, is the torque; beyond this nothing turns like that. A runner that is held
 * gives up to about twice its rated torque, a generator pulls out at two to three times (common practice, no source).
 */
const MOST_TORQUE = 3

/** Speed and power, as shares of the rating, that cannot both be: one of the two instruments is wrong. */
export function isTooMuchTorque(speed: number, power: number): boolean {
  return power > MOST_TORQUE * speed + 2 * RUNNING_POWER
}

/**
 * Running: speed > 20 % and power > 1 % of rated; where one of them is not known, the other one tells, and nobody can where
 * they cannot both be.
 */
export function isRunning(look: Look, wasOn: boolean): boolean | undefined {
  const power = look.value('activePower')
  if (Number.isNaN(power)) return undefined
  const speed = look.share('speed')
  const share = look.share('activePower')
  if (isTooMuchTorque(speed, share)) return undefined
  const isTurning = Number.isNaN(speed) || speed > (wasOn ? STOPPED_SPEED : RUNNING_SPEED)
  const isMaking = Number.isNaN(share) ? power > 0 : share > (wasOn ? STOPPED_POWER : RUNNING_POWER)
  return isTurning && isMaking
}

/** Motoring: more than 1 % of rated power goes in while it turns; the grid drives it. */
export function isMotoring(look: Look): boolean | undefined {
  const power = look.value('activePower')
  if (Number.isNaN(power)) return undefined
  const speed = look.share('speed')
  return look.share('activePower') < -RUNNING_POWER && (Number.isNaN(speed) || speed > RUNNING_SPEED)
}

/** What goes to the grid: as it is measured there, or all that is generated, less the plant's own loads where they are measured. */
export function gridPower(look: Look): number {
  if (look.has('gridPower')) return look.value('gridPower')
  return look.value('activePower') - (look.has('loadPower') ? look.value('loadPower') : 0)
}

/**
 * Power that the river allowed:  P_r · min(1, max(0, (Q + Q_res − Q_ho) / Q_r)).
 * Part-load efficiency is left out. Source: definition of the flow-limited capacity factor; proportion assumed.
 */
export function possiblePower(look: Look): number {
  const spare = look.value('discharge') + look.value('residualFlow') - look.constant('licence.handsOffFlow')
  const share = spare / look.constant('turbine.ratedDischarge')
  return look.constant('generator.ratedPower') * Math.min(1, Math.max(0, share))
}

export function above(share: number, limit: number): boolean | undefined {
  return Number.isNaN(share) ? undefined : share > limit
}

export function isSet(value: number): boolean | undefined {
  return Number.isNaN(value) ? undefined : value >= 0.5
}

export function and(a: boolean | undefined, b: boolean): boolean | undefined {
  return a === undefined ? undefined : a && b
}

/** What counters look at: figures, constants and families of states. */
export function createLook(figures: FigureLookupById, plant: Plant, ids: readonly string[]): Look {
  const { value, share, has } = figures
  const families = new Map<string, string[]>()

  /** Found once, for it is asked for on every tick. */
  function familyOf(family: string): string[] {
    const known = families.get(family) ?? ids.filter((id) => isOf(family, id))
    families.set(family, known)
    return known
  }

  return {
    value,
    share,
    has,
    constant: (path) => plant.constants.get(path) ?? Number.NaN,
    any: (family, read = value) => anyOf(familyOf(family), read),
  }
}

/** The same with one value as it was just read, before the figures are brought up to it. */
export function withReading(look: Look, read: { quantity: string; value: number; rated: number }): Look {
  const value = (figure: string) => (figure === read.quantity ? read.value : look.value(figure))
  return {
    ...look,
    value,
    share: (figure) => (figure === read.quantity ? read.value / read.rated : look.share(figure)),
    any: (family) => look.any(family, value),
  }
}

function anyOf(ids: readonly string[], value: (figure: string) => number): boolean | undefined {
  let known: boolean | undefined
  for (const id of ids) {
    const state = isSet(value(id))
    if (state === true) return true
    known = state ?? known
  }
  return known
}
