import { fitLinear } from '../../../statistics/regression.ts'
import type { CurveModel, Row } from '../curveModel.ts'

/**
 * A straight line in log–log: y = y_r·(x/x_r)^m, with x_r the geometric mean of the abscissas, so that the two parameters
 * hardly depend on each other.
 *
 * Limits: x and y above zero at every point.
 * Source: definition.
 */
export const powerLaw: CurveModel = {
  id: 'powerLaw',
  formula: 'y = y_r·(x/x_r)^m',
  fewest: 4,
  prepare(rows) {
    if (rows.some((row) => !(row['x']! > 0) || !(row['y']! > 0)))
      return {
        lacking: 'A point with a value of zero or less has no logarithm: look at the zeros of the gauges.',
      }
    const middle = Math.exp(meanOf(rows.map((row) => Math.log(row['x']!))))
    return {
      formula: 'log y = log y_r + m·log(x/x_r)',
      named: [{ symbol: 'm', name: 'Exponent in log–log', unit: '1', viewUnit: '1' }],
      fit: (points) => fitLogarithms(points, middle),
      predict: ([exponent, height], row) => height! * (row['x']! / middle) ** exponent!,
    }
  },
}

function fitLogarithms(rows: readonly Row[], middle: number): number[] {
  if (rows.some((row) => !(row['y']! > 0))) return [Number.NaN, Number.NaN]
  const [height, exponent] = fitLinear({
    columns: [rows.map((row) => Math.log(row['x']! / middle))],
    y: rows.map((row) => Math.log(row['y']!)),
  }).coefficients
  return [exponent!, Math.exp(height!)]
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
