/**
 * Data reconciliation by weighted least squares: measurements that should satisfy relations do not quite, and
 * the smallest corrections that make them do so are looked for.
 */

/** One set of relations, linearised at the present values. */
export interface ReconciliationInput {
  /** What each relation is off by: expected less measured. */
  residuals: readonly number[]
  /** Per relation and measurement: sensitivity · standard uncertainty, with its sign, in the unit of the residual. */
  contributions: readonly ArrayLike<number>[]
  /**
   * Per measurement the set of measurements that it errs with, by any number; alone where left out. Instruments of one
   * calibration err together.
   */
  sets?: readonly number[]
  /** Variance of each relation's own assumption (an efficiency curve, a coefficient) and of scatter. */
  ownVariances: readonly number[]
}

export interface Reconciliation {
  /** Σ of squared residuals in units of their covariance; χ² with as many degrees of freedom as relations. */
  chiSquare: number
  /** Per measurement, in standard uncertainties: what has to be added to it. */
  corrections: number[]
  /** Per measurement: standard uncertainty of the reconciled value as a share of that of the measured one. */
  remaining: number[]
  /** Per measurement, in standard uncertainties: what it is off by if it alone is wrong; 0 where no relation sees it. */
  errors: number[]
  /** Per measurement: normal deviate of the hypothesis that it alone is wrong; 0 where no relation sees it. */
  measurementTests: number[]
  /** Per relation: normal deviate of the hypothesis that its own assumption alone is wrong. */
  relationTests: number[]
}

/**
 * min Σ δ² + Σ (e/σ)² subject to r + Σ a_j·δ_j + e = 0, with V = A·Aᵀ + diag(σ²):
 * δ̂ = −Aᵀ·V⁻¹·r, var(δ̂ + error) = 1 − a_jᵀ·V⁻¹·a_j, and for the hypothesis of one gross error with signature
 * a_j the likelihood-ratio test d_j = a_jᵀ·V⁻¹·r / √(a_jᵀ·V⁻¹·a_j), normal with unit variance when all is well.
 *
 * @param input Residuals [any unit] with what each measurement and each relation contributes to them.
 * @returns Undefined when V is singular: a relation without any uncertainty, or one said twice.
 *
 * Limits: first order; one gross error at a time. Members of a set err together in full; a gross error is of one alone.
 * Source: Narasimhan & Jordache, Data Reconciliation and Gross Error Detection, 2000, ch. 3 and 7 (from memory).
 */
export function reconcile(input: ReconciliationInput): Reconciliation | undefined {
  const { residuals, contributions, ownVariances } = input
  const size = residuals.length
  const measurements = contributions[0]?.length ?? 0
  const sets = input.sets ?? Array.from({ length: measurements }, (_, j) => j)
  const weighing = weigh(input)
  if (!weighing) return undefined
  const { whiten } = weighing
  const whitened = whiten(residuals)
  const signature = (j: number) =>
    j < measurements
      ? contributions.map((row) => row[j]!)
      : residuals.map((_, i) => (i === j - measurements ? Math.sqrt(ownVariances[i]!) : 0))
  const signatures = Array.from({ length: measurements + size }, (_, j) => whiten(signature(j)))
  const joint = new Map([...togetherBySet(contributions, sets)].map(([set, column]) => [set, whiten(column)]))
  const ofSet = sets.map((set) => joint.get(set)!)
  const alone = signatures.slice(0, measurements)
  const tests = signatures.map((one) => ratio(dot(one, whitened), Math.sqrt(dot(one, one))))
  return {
    chiSquare: dot(whitened, whitened),
    corrections: ofSet.map((one) => -dot(one, whitened)),
    remaining: ofSet.map((one) => Math.sqrt(Math.max(0, 1 - dot(one, one)))),
    errors: alone.map((one) => ratio(dot(one, whitened), dot(one, one))),
    measurementTests: tests.slice(0, measurements),
    relationTests: tests.slice(measurements),
  }
}

/** How residuals scatter together. */
export interface Weighing {
  /** L⁻¹·v with V = L·Lᵀ: brings correlated residuals to unit variance. */
  whiten(v: ArrayLike<number>): Float64Array
  /** ln |V| */
  logDeterminant: number
}

/**
 * V = A·Aᵀ + diag(σ²) as its Cholesky factor, for residuals that are to be brought to unit variance.
 *
 * @param input What each measurement and each relation contributes to the residuals [unit of each residual].
 * @returns Undefined when V is singular: a relation without any uncertainty, or one said twice.
 *
 * Limits: first order; members of a set err together in full.
 * Source: covariance of a linear form, JCGM 100:2008, 5.2; the factor by its definition.
 */
export function weigh(input: Omit<ReconciliationInput, 'residuals'>): Weighing | undefined {
  const { contributions, ownVariances } = input
  const sets = input.sets ?? Array.from(contributions[0] ?? [], (_, j) => j)
  const together = togetherBySet(contributions, sets)
  const factor = cholesky(covariance([...together.values()], ownVariances))
  return (
    factor && {
      whiten: (v) => solve(factor, v),
      logDeterminant: 2 * factor.reduce((sum, row, i) => sum + Math.log(row[i]!), 0),
    }
  )
}

/** What a common error of a set does to each relation: the sum of what its members do. */
function togetherBySet(
  contributions: readonly ArrayLike<number>[],
  sets: readonly number[],
): Map<number, Float64Array> {
  const together = new Map<number, Float64Array>()
  for (const [j, set] of sets.entries()) {
    const column = together.get(set) ?? new Float64Array(contributions.length)
    for (const [i, row] of contributions.entries()) column[i]! += row[j]!
    together.set(set, column)
  }
  return together
}

function covariance(columns: readonly Float64Array[], ownVariances: readonly number[]): Float64Array[] {
  return ownVariances.map((own, i) =>
    Float64Array.from(ownVariances, (_, k) =>
      columns.reduce((sum, column) => sum + column[i]! * column[k]!, i === k ? own : 0),
    ),
  )
}

/** A pivot below this share of its diagonal is rounding: the rows depend on each other. */
const SMALLEST_PIVOT = 1e-12

/** Lower triangle L with L·Lᵀ = matrix; undefined when the matrix is not positive definite. */
function cholesky(matrix: readonly Float64Array[]): Float64Array[] | undefined {
  const factor = matrix.map((row) => new Float64Array(row.length))
  for (const [i, row] of matrix.entries()) {
    for (let k = 0; k <= i; k++) {
      let rest = row[k]!
      for (let j = 0; j < k; j++) rest -= factor[i]![j]! * factor[k]![j]!
      if (k < i) factor[i]![k] = rest / factor[k]![k]!
      else if (rest > SMALLEST_PIVOT * row[i]!) factor[i]![i] = Math.sqrt(rest)
      else return undefined
    }
  }
  return factor
}

/** L⁻¹·v */
function solve(factor: readonly Float64Array[], v: ArrayLike<number>): Float64Array {
  const solved = new Float64Array(factor.length)
  for (const [i, row] of factor.entries()) {
    let rest = v[i]!
    for (let j = 0; j < i; j++) rest -= row[j]! * solved[j]!
    solved[i] = rest / row[i]!
  }
  return solved
}

/**
 * Σ aᵢ·bᵢ
 *
 * @param a One row.
 * @param b Another, at least as long.
 * @returns Product of the units of both.
 *
 * Limits: none.
 * Source: definition.
 */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

function ratio(a: number, b: number): number {
  return b > 0 ? a / b : 0
}
