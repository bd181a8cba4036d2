import { fitLinear } from '../../../statistics/regression.ts'
import type { CurveModel } from '../curveModel.ts'

/**
 * Loss of a pipe in the rough regime: h = k·Q². x is the discharge Q [m³/s], y the head lost h [m].
 *
 * Limits: one setting of every valve; where friction counts more than bends the exponent is nearer 1.8.
 * Source: Darcy–Weisbach with a constant friction factor.
 */
export const pipeLoss: CurveModel = {
  id: 'pipeLoss',
  formula: 'h = k·Q²',
  fewest: 3,
  prepare: () => ({
    formula: 'h = k·Q²',
    named: [{ symbol: 'k', name: 'Loss coefficient of the pipe', unit: 's2/m5', viewUnit: 's2/m5' }],
    fit: (rows) =>
      fitLinear({
        columns: [rows.map((row) => row['x']! ** 2)],
        y: rows.map((row) => row['y']!),
        intercept: false,
      }).coefficients,
    predict: ([k], row) => k! * row['x']! ** 2,
  }),
}
