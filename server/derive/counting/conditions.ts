import type { Look } from './kind.ts'

/** Share of the rated speed and power from which a machine counts as running (trade practice, no source). */
export const RUNNING_SPEED = 0.2
export const RUNNING_POWER = 0.01
/** Ends below these shares, so that a machine at the edge does not start again and again [default]. */
const STOPPED_SPEED = 0.15
const STOPPED_POWER = 0.005
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

/** Running: speed > 20 % and power > 1 % of rated; where one of them is not known, the other one tells. */
export function isRunning(look: Look, wasOn: boolean): boolean | undefined {
  const power = look.value('activePower')
  if (Number.isNaN(power)) return undefined
  const speed = look.share('speed')
  const share = look.share('activePower')
  const isTurning = Number.isNaN(speed) || speed > (wasOn ? STOPPED_SPEED : RUNNING_SPEED)
  const isMaking = Number.isNaN(share) ? power > 0 : share > (wasOn ? STOPPED_POWER : RUNNING_POWER)
  return isTurning && isMaking
}

/** What goes to the grid: all that is generated, less the plant's own loads where they are measured. */
export function gridPower(look: Look): number {
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
