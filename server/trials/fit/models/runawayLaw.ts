import { fitNonlinear } from '../../../statistics/nonlinearLeastSquares.ts'
import type { CurveModel, Row } from '../curveModel.ts'

/**
 * Torque of an impulse wheel over speed at one head and opening: T = T_0·(1 − (ω/ω_r)^m). x is the speed ω [rad/s],
 * y the torque T [N·m]; T_0 the torque at standstill, ω_r the runaway speed.
 *
 * Limits: one head, one opening. Standstill and runaway are read off by extension beyond the points, so their
 * intervals are wide; nobody has to go there.
 * Source: common practice for impulse wheels (m = 1 is the straight line of the simplest theory).
 */
export const runawayLaw: CurveModel = {
  id: 'runawayLaw',
  formula: 'T = T_0·(1 − (ω/ω_r)^m)',
  fewest: 6,
  prepare: () => ({
    formula: 'T = T_0·(1 − (ω/ω_r)^m)',
    named: [
      { symbol: 'T_0', name: 'Torque at standstill, by extension', unit: 'N.m', viewUnit: 'N.m' },
      { symbol: 'ω_r', name: 'Runaway speed, by extension', unit: 'rad/s', viewUnit: '/min' },
      { symbol: 'm', name: 'Exponent', unit: '1', viewUnit: '1' },
    ],
    fit: (rows) => {
      const highest = Math.max(...rows.map((row) => row['y']!))
      const fit = fitNonlinear({
        predict: (parameters) => rows.map((row) => torque(parameters, row)),
        y: rows.map((row) => row['y']!),
        start: [1.5 * highest, 1.6 * Math.max(...rows.map((row) => row['x']!)), 1.2],
      })
      return fit.isSettled ? fit.parameters : fit.parameters.map(() => Number.NaN)
    },
    predict: torque,
  }),
}

function torque(parameters: readonly number[], row: Row): number {
  const [standstill, runaway, exponent] = parameters as [number, number, number]
  return standstill * (1 - (row['x']! / runaway) ** exponent)
}
