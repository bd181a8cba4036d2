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
  const factor = columns.map((column, j) => Float64Array.from(column, (value) => value / scales[j]!))
  const diagonal = triangularise(factor)
  const scaled = solveTriangle(factor, diagonal, reflect(factor, y))
  const first = residualsOf(columns, y, unscale(scaled, scales))
  const correction = solveTriangle(factor, diagonal, reflect(factor, first))
  const coefficients = unscale(
    scaled.map((value, j) => value + correction[j]!),
    scales,
  )
  const residuals = residualsOf(columns, y, coefficients)
  const residualSquares = residuals.reduce((sum, r) => sum + r * r, 0)
  const unscaledCovariance = covarianceFrom(factor, diagonal, scales)
  return { coefficients, residuals, residualSquares, unscaledCovariance }
}

/** Reflects the columns in place; column j keeps its reflector below and R above the diagonal it returns. */
function triangularise(columns: Float64Array[]): number[] {
  return columns.map((column, j) => {
    const tail = column.subarray(j)
    const norm = Math.hypot(...tail)
    const diagonal = tail[0]! > 0 ? -norm : norm
    // Dependent columns leave only rounding below the diagonal: no coefficient can be told.
    if (!(norm > 1e-14)) return Number.NaN
    tail[0]! -= diagonal
    for (const later of columns.slice(j + 1)) mirror(tail, later.subarray(j))
    return diagonal
  })
}

/** target −= 2·v(v·target)/(v·v) */
function mirror(v: Float64Array, target: Float64Array): void {
  let [dot, square] = [0, 0]
  for (let i = 0; i < v.length; i++) {
    dot += v[i]! * target[i]!
    square += v[i]! * v[i]!
  }
  const factor = (2 * dot) / square
  for (let i = 0; i < v.length; i++) target[i]! -= factor * v[i]!
}

/** Qᵀy. */
function reflect(factor: readonly Float64Array[], y: readonly number[]): Float64Array {
  const rotated = Float64Array.from(y)
  factor.forEach((column, j) => {
    mirror(column.subarray(j), rotated.subarray(j))
  })
  return rotated
}

/** Back substitution of R·b = rhs. */
function solveTriangle(factor: readonly Float64Array[], diagonal: readonly number[], rhs: ArrayLike<number>) {
  const size = factor.length
  const solution = new Array<number>(size).fill(0)
  for (let i = size - 1; i >= 0; i--) {
    let sum = rhs[i]!
    for (let j = i + 1; j < size; j++) sum -= factor[j]![i]! * solution[j]!
    solution[i] = sum / diagonal[i]!
  }
  return solution
}

/** R⁻¹·R⁻ᵀ, taken back to the unscaled columns. */
function covarianceFrom(
  factor: readonly Float64Array[],
  diagonal: readonly number[],
  scales: readonly number[],
): number[][] {
  const unit = (k: number) => factor.map((_, i) => (i === k ? 1 : 0))
  const inverse = factor.map((_, k) => solveTriangle(factor, diagonal, unit(k)))
  return scales.map((si, i) =>
    scales.map((sj, j) => inverse.reduce((sum, column) => sum + column[i]! * column[j]!, 0) / (si * sj)),
  )
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

function unscale(scaled: readonly number[], scales: readonly number[]): number[] {
  return scaled.map((value, j) => value / scales[j]!)
}
