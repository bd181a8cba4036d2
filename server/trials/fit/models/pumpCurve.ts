import { fitLinear } from '../../../statistics/regression.ts'
import type { CurveModel } from '../curveModel.ts'

/**
 * A centrifugal pump at any speed: H = s²·H_0 − k·Q². x is the discharge Q [m³/s], y the pump head H [m], s the speed
 * as a share of full speed.
 *
 * Limits: the affinity laws hold, so not far below half speed; no rising branch at small discharge.
 * Source: affinity laws; a parabola as in pump data sheets.
 */
export const pumpCurve: CurveModel = {
  id: 'pumpCurve',
  formula: 'H = s²·H_0 − k·Q²',
  fewest: 4,
  prepare: () => ({
    formula: 'H = s²·H_0 − k·Q²',
    named: [
      { symbol: 'H_0', name: 'Head without discharge at full speed', unit: 'm', viewUnit: 'm' },
      { symbol: 'k', name: 'Fall of the head with discharge', unit: 's2/m5', viewUnit: 's2/m5' },
    ],
    fit: (rows) =>
      fitLinear({
        columns: [rows.map((row) => row['s']! ** 2), rows.map((row) => -(row['x']! ** 2))],
        y: rows.map((row) => row['y']!),
        intercept: false,
      }).coefficients,
    predict: ([shutOff, fall], row) => row['s']! ** 2 * shutOff! - fall! * row['x']! ** 2,
  }),
}
