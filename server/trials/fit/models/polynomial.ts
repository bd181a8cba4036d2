import { evaluatePolynomial, fitPolynomial } from '../../../statistics/regression.ts'
import { studentQuantile } from '../../../statistics/studentT.ts'
import type { CurveModel, Row } from '../curveModel.ts'

const HIGHEST_DEGREE = 3

/**
 * A curve without theory behind it, where six points of one way are held against six of another: its form is taken for
 * granted. Elsewhere the form is left to the points (smoothCurves.ts). The degree is 2, or 3 where the points ask for it: when the third power
 * differs from zero at the 95 % level and there are at least four different abscissas.
 */
export const polynomial: CurveModel = {
  id: 'polynomial',
  formula: 'polynomial of degree 2, or 3 where the points ask for it',
  fewest: 4,
  prepare(rows) {
    const degree = degreeFor(rows)
    if (degree < 1) return { lacking: 'All points lie at one place: move on and take others.' }
    return {
      formula: `polynomial of degree ${degree}`,
      named: [],
      fit: (points) => fitPolynomial(column(points, 'x'), column(points, 'y'), degree).coefficients,
      predict: (parameters, row) => evaluatePolynomial(parameters, row['x']!),
    }
  },
}

function degreeFor(rows: readonly Row[]): number {
  const places = countPlaces(column(rows, 'x'))
  const most = Math.min(HIGHEST_DEGREE, places - 1, rows.length - 2)
  if (most < HIGHEST_DEGREE) return most
  const fit = fitPolynomial(column(rows, 'x'), column(rows, 'y'), HIGHEST_DEGREE)
  const ratio = Math.abs(fit.coefficients[3]! / fit.standardErrors[3]!)
  return ratio > studentQuantile(0.95, fit.degreesOfFreedom) ? HIGHEST_DEGREE : 2
}

/** Abscissas that are further apart than a fiftieth of the range. */
function countPlaces(x: readonly number[]): number {
  const sorted = [...x].sort((a, b) => a - b)
  const apart = (sorted.at(-1)! - sorted[0]!) / 50
  return 1 + sorted.slice(1).filter((value, i) => value - sorted[i]! > apart).length
}

function column(rows: readonly Row[], symbol: string): number[] {
  return rows.map((row) => row[symbol]!)
}
