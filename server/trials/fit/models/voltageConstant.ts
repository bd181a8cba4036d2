import { fitLinear } from '../../../statistics/regression.ts'
import type { CurveModel } from '../curveModel.ts'

/**
 * Voltage without load: U = k_e·ω, a straight line through zero. x is the speed ω [rad/s], y the phase voltage U [V].
 *
 * Limits: no load current; permanent magnets, or constant excitation.
 * Source: law of induction.
 */
export const voltageConstant: CurveModel = {
  id: 'voltageConstant',
  formula: 'U = k_e·ω',
  fewest: 3,
  prepare: () => ({
    formula: 'U = k_e·ω',
    named: [{ symbol: 'k_e', name: 'Voltage constant of a phase', unit: 'V.s', viewUnit: 'V.s' }],
    fit: (rows) =>
      fitLinear({
        columns: [rows.map((row) => row['x']!)],
        y: rows.map((row) => row['y']!),
        intercept: false,
      }).coefficients,
    predict: ([constant], row) => constant! * row['x']!,
  }),
}
