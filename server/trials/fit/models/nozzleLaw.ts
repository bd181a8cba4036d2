import { idealJetFlow } from '../../../physics/turbine.ts'
import { fitLinear } from '../../../statistics/regression.ts'
import type { CurveModel, Row } from '../curveModel.ts'

const FORMULA = 'Q = N·C_d·(π/4)·d²·√(2·g·H)'

/**
 * Fixed nozzles: Q = N·C_d·(π/4)·d²·√(2·g·H). x is the net head H [m], y the discharge Q [m³/s], N the open jets,
 * d the bore [m], g gravity [m/s²].
 *
 * Limits: free jets, clean nozzles; C_d hardly depends on the head.
 * Source: Torricelli, with the coefficient referred to the bore.
 */
export const nozzleLaw: CurveModel = {
  id: 'nozzleLaw',
  formula: FORMULA,
  fewest: 3,
  prepare: () => ({
    formula: FORMULA,
    named: [{ symbol: 'C_d', name: 'Discharge coefficient of a nozzle', unit: '1', viewUnit: '1' }],
    fit: (rows) => {
      const columns = [rows.map(idealDischarge)]
      return fitLinear({ columns, y: rows.map((row) => row['y']!), intercept: false }).coefficients
    },
    predict: ([coefficient], row) => coefficient! * idealDischarge(row),
  }),
}

function idealDischarge(row: Row): number {
  const { x: head, N, d, g } = row as Readonly<Record<'x' | 'N' | 'd' | 'g', number>>
  return N * idealJetFlow(d, head, g)
}
