import { inverse, Matrix, QrDecomposition } from 'ml-matrix'

/** Least squares by Householder QR. Normal equations would lose half the digits; this keeps them. */

/** What the triangular factor gives back. */
export interface Solution {
  coefficients: number[]
  residuals: number[]
  /** Σ residual². */
  residualSquares: number
  /** (XᵀX)⁻¹; times the residual variance it is the covariance of the coefficients. */
  unscaledCovariance: number[][]
}

/**
 * Solves min‖y − Xb‖ by Householder reflections on columns scaled to unit length, with one step of refinement.
 *
 * @param columns Columns of X, each as long as y.
 * @param y Observations.
 * @returns The solution; coefficients are NaN when the columns depend on each other to working precision.
 * @throws {RangeError} when lengths differ or there are fewer rows than columns: programming errors.
 *
 * Limits: relative accuracy about 1e-16 times the condition of the scaled columns.
 * Example: one column 1, 1 and y 1, 3 → 2.
 * Source: Golub & Van Loan, Matrix Computations, 5.3 (from memory).
 */
export function solveLeastSquares(columns: readonly (readonly number[])[], y: readonly number[]): Solution {
  if (columns.some((column) => column.length !== y.length)) {
    throw new RangeError(`solveLeastSquares: every column must have ${y.length} rows, as y has`)
  }
  if (y.length < columns.length || columns.length === 0) {
    throw new RangeError(`solveLeastSquares: ${y.length} rows cannot settle ${columns.length} columns`)
  }
  const scales = columns.map((column) => Math.hypot(...column))
  const scaled = new Matrix(columns.map((column, j) => column.map((value) => value / scales[j]!))).transpose()
  let factor = new QrDecomposition(scaled)
  // Dependent columns leave only rounding on the diagonal: no coefficient can be told.
  if (!factor.upperTriangularMatrix.diagonal().every((one) => Math.abs(one) > 1e-14))
    factor = new QrDecomposition(scaled.mul(Number.NaN))
  const solve = (rhs: readonly number[]) =>
    factor
      .solve(Matrix.columnVector([...rhs]))
      .to1DArray()
      .map((value, j) => value / scales[j]!)
  const first = solve(y)
  const correction = solve(residualsOf(columns, y, first))
  const coefficients = first.map((value, j) => value + correction[j]!)
  const residuals = residualsOf(columns, y, coefficients)
  const root = inverse(factor.upperTriangularMatrix)
  return {
    coefficients,
    residuals,
    residualSquares: residuals.reduce((sum, r) => sum + r * r, 0),
    unscaledCovariance: root
      .mmul(root.transpose())
      .to2DArray()
      .map((row, i) => row.map((value, j) => value / (scales[i]! * scales[j]!))),
  }
}

function residualsOf(
  columns: readonly (readonly number[])[],
  y: readonly number[],
  coefficients: readonly number[],
): number[] {
  return y.map((value, row) =>
    columns.reduce((sum, column, j) => sum - column[row]! * coefficients[j]!, value),
  )
}
