import { fitNonlinear } from '../../../statistics/nonlinearLeastSquares.ts'
import { fitPolynomial } from '../../../statistics/regression.ts'
import type { CurveModel, Row } from '../curveModel.ts'

/**
 * Efficiency of a converter with three kinds of losses: η = P/(P + P_0 + a·P + b·P²). x is the output P [W], y η.
 * The best point lies at P = √(P_0/b).
 *
 * Limits: constant input voltage and power factor.
 * Source: common practice for converters: constant, proportional and resistive losses.
 */
export const inverterLosses: CurveModel = {
  id: 'inverterLosses',
  formula: 'η = P/(P + P_0 + a·P + b·P²)',
  fewest: 5,
  prepare: () => ({
    formula: 'η = P/(P + P_0 + a·P + b·P²)',
    named: [
      { symbol: 'P_0', name: 'Losses without load', unit: 'W', viewUnit: 'W' },
      { symbol: 'a', name: 'Losses in proportion to the output', unit: '1', viewUnit: '%' },
    ],
    fit: (rows) => {
      const losses = rows.map((row) => row['x']! / row['y']! - row['x']!)
      const fit = fitNonlinear({
        predict: (parameters) => rows.map((row) => efficiency(parameters, row)),
        y: rows.map((row) => row['y']!),
        start: fitPolynomial(
          rows.map((row) => row['x']!),
          losses,
          2,
        ).coefficients,
      })
      return fit.isSettled ? fit.parameters : fit.parameters.map(() => Number.NaN)
    },
    predict: efficiency,
  }),
}

function efficiency(parameters: readonly number[], row: Row): number {
  const [constant, proportional, square] = parameters as [number, number, number]
  const output = row['x']!
  return output / (output + constant + proportional * output + square * output ** 2)
}
