/** Least squares for models that are not linear in their parameters. */
import { solveLeastSquares } from './leastSquares.ts'

/** Values of a model at its points for a set of parameters. */
export type Prediction = (parameters: readonly number[]) => readonly number[]

/** What to fit. */
export interface NonlinearModel {
  /** Gives as many values as `y` has. */
  predict: Prediction
  y: readonly number[]
  /** A first guess; none of them 0 unless 0 is a likely value. */
  start: readonly number[]
}

export interface NonlinearFit {
  parameters: number[]
  residuals: number[]
  /** False when the steps ended before the sum of squares settled: the parameters then mean nothing. */
  isSettled: boolean
}

const MOST_STEPS = 200
const SETTLED = 1e-13
const LARGEST_DAMPING = 1e14

/**
 * Levenberg–Marquardt:  min Σ(y − f(θ))², each step by QR of the Jacobian with √λ·‖column‖ rows below it.
 *
 * @param model Prediction, observations and start.
 * @returns Parameters and what they leave of the observations; how well they are known says `covarianceAt`.
 * @throws {RangeError} when there are fewer points than parameters: a programming error.
 *
 * Limits: finds the minimum next to the start.
 * Example: Misra1a of NIST StRD from (500, 0.0001) → 238.942129, 5.50156432e-4.
 * Source: Marquardt 1963, J. SIAM 11:431; checked with the NIST StRD data sets.
 */
export function fitNonlinear(model: NonlinearModel): NonlinearFit {
  const { predict, y, start } = model
  if (y.length < start.length)
    throw new RangeError(`fitNonlinear: ${y.length} points cannot settle ${start.length} parameters`)
  let parameters = [...start]
  let residuals = residualsOf(model, parameters)
  let sum = squares(residuals)
  let damping = 1e-3
  let isSettled = false
  for (let step = 0; step < MOST_STEPS && !isSettled && damping < LARGEST_DAMPING; step++) {
    const next = damped(jacobianOf(predict, parameters), residuals, damping).map((d, j) => parameters[j]! + d)
    const tried = residualsOf(model, next)
    const trial = squares(tried)
    if (trial <= sum) {
      isSettled = sum - trial <= SETTLED * sum
      damping /= 10
      parameters = next
      residuals = tried
      sum = trial
    } else damping *= 10
  }
  // No step helps any more: the bottom, as far as rounding lets it be seen.
  const isBottom = Number.isFinite(sum) && (isSettled || damping >= LARGEST_DAMPING)
  return { parameters, residuals, isSettled: isBottom }
}

/**
 * Partial derivatives of a prediction by its parameters, one column each, by central differences.
 *
 * @param predict Values of the model for a set of parameters.
 * @param parameters Where.
 * @returns ∂f/∂θⱼ, in the order of the parameters.
 *
 * Limits: step 1e-5 of the parameter, so smooth models only.
 * Example: f = θ² at 3 → 6.
 * Source: definition.
 */
export function jacobianOf(predict: Prediction, parameters: readonly number[]): number[][] {
  return parameters.map((value, j) => {
    const h = 1e-5 * Math.abs(value) || 1e-8
    const at = (shifted: number) => predict(parameters.map((one, k) => (k === j ? shifted : one)))
    const above = at(value + h)
    const below = at(value - h)
    return above.map((one, i) => (one - below[i]!) / (2 * h))
  })
}

/**
 * Covariance of parameters from the scatter of the residuals:  s²(JᵀJ)⁻¹, s² = Σr²/(n − p)
 *
 * @param predict Values of the model; divided by their standard deviations, as the residuals, where points are weighted.
 * @param parameters Where the sum of squares is least.
 * @param residuals What they leave of the observations.
 * @returns One row each; NaN without spare points, NaN or vast where two parameters cannot be told apart.
 *
 * Limits: derivatives by central differences: about 8 digits of the errors.
 * Example: Misra1a of NIST StRD → standard errors 2.70700752, 7.26686884e-6.
 * Source: Marquardt 1963, J. SIAM 11:431; checked with the NIST StRD data sets.
 */
export function covarianceAt(
  predict: Prediction,
  parameters: readonly number[],
  residuals: readonly number[],
): number[][] {
  const freedom = residuals.length - parameters.length
  const variance = freedom > 0 ? squares(residuals) / freedom : Number.NaN
  const { unscaledCovariance } = solveLeastSquares(jacobianOf(predict, parameters), residuals)
  return unscaledCovariance.map((row) => row.map((value) => value * variance))
}

function damped(jacobian: readonly number[][], residuals: readonly number[], damping: number): number[] {
  const columns = jacobian.map((column, j) => [
    ...column,
    ...jacobian.map((_, k) => (k === j ? Math.sqrt(damping) * (Math.hypot(...column) || 1) : 0)),
  ])
  return solveLeastSquares(columns, [...residuals, ...jacobian.map(() => 0)]).coefficients
}

function residualsOf({ predict, y }: NonlinearModel, parameters: readonly number[]): number[] {
  const predicted = predict(parameters)
  return y.map((value, i) => value - predicted[i]!)
}

function squares(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value * value, 0)
}
