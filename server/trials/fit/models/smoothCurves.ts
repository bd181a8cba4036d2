import type { SmoothPoints } from '../../../statistics/smoothCurve.ts'

/** A curve of no fixed form. */
export interface SmoothModel extends Required<Pick<SmoothPoints, 'base'>> {
  id: string
  /** As people read it. */
  formula: string
}

/** Where no law is known. */
const smooth: SmoothModel = {
  id: 'smooth',
  formula: 'smooth curve, its form left to the points',
  base: 'line',
}

/**
 * Efficiency of a runner over speed at one head and opening: torque about T_0·(1 − ω/ω_r), so η about ω·(1 − ω/ω_r), and
 * whatever the runner departs from that.
 *
 * Limits: impulse wheels; nothing is taken for granted of the departure but that it is smooth.
 * Source: momentum of a jet on a moving bucket (the straight line of the simplest theory).
 */
const runnerEfficiency: SmoothModel = {
  id: 'runnerEfficiency',
  formula: 'η = c·ω·(1 − ω/ω_r) and a smooth departure from it',
  base: 'throughZero',
}

/** Every one by its id. */
export const smoothCurves: ReadonlyMap<string, SmoothModel> = new Map(
  [smooth, runnerEfficiency].map((model) => [model.id, model]),
)
