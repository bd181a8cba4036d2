import { fitNonlinear } from '../../statistics/nonlinearLeastSquares.ts'
import { fitLinear } from '../../statistics/regression.ts'
import type { AmountText } from '../../wire/trace.ts'

/** Values of one point, or of one place on the curve, by symbol: "x", "y" and what the curve asks for besides. */
export type Row = Readonly<Record<string, number>>

/** A curve that can be laid through points. */
export interface CurveModel {
  id: string
  /** As people read it. */
  formula: string
  /** Fewest points, the repeated ones among them. */
  fewest: number
  /** Fixes what depends on the whole set of points (a degree, a scale), or says why there is no such curve. */
  prepare(rows: readonly Row[]): PreparedCurve | { lacking: string }
}

/** A curve with a fixed number of parameters. */
export interface PreparedCurve {
  formula: string
  /** Those that mean something to people; the first ones of the parameters. */
  named: readonly AmountText[]
  /** Parameters for these points; NaN where they cannot be told. */
  fit(rows: readonly Row[]): number[]
  /** y at `row`, whose "y" is not looked at. */
  predict(parameters: readonly number[], row: Row): number
}

interface Law extends Omit<CurveModel, 'prepare'> {
  named: readonly AmountText[]
}

/** A law that is a sum of its parameters, each times what follows from the place: y = Σ pⱼ·termⱼ. */
export function linearLaw({
  named,
  terms,
  ...head
}: Law & { terms: readonly ((row: Row) => number)[] }): CurveModel {
  return {
    ...head,
    prepare: () => ({
      formula: head.formula,
      named,
      fit: (rows) =>
        fitLinear({
          columns: terms.map((term) => rows.map(term)),
          y: rows.map((row) => row['y']!),
          intercept: false,
        }).coefficients,
      predict: (parameters, row) => terms.reduce((sum, term, j) => sum + parameters[j]! * term(row), 0),
    }),
  }
}

interface NonlinearLaw extends Law, Pick<PreparedCurve, 'predict'> {
  /** Parameters that are near enough to begin with. */
  start(rows: readonly Row[]): readonly number[]
  /** Both signs of a parameter give the same curve: the positive ones are told. */
  isUnsigned?: boolean
}

/** A law whose parameters are found by steps from a start. */
export function nonlinearLaw({
  named,
  predict,
  start,
  isUnsigned = false,
  ...head
}: NonlinearLaw): CurveModel {
  return {
    ...head,
    prepare: () => ({
      formula: head.formula,
      named,
      predict,
      fit(rows) {
        const { parameters, isSettled } = fitNonlinear({
          predict: (tried) => rows.map((row) => predict(tried, row)),
          y: rows.map((row) => row['y']!),
          start: start(rows),
        })
        if (!isSettled) return parameters.map(() => Number.NaN)
        return isUnsigned ? parameters.map(Math.abs) : parameters
      },
    }),
  }
}
