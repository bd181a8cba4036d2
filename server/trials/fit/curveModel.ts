/** Values of one point, or of one place on the curve, by symbol: "x", "y" and what the curve asks for besides. */
export type Row = Readonly<Record<string, number>>

export interface ParameterText {
  symbol: string
  name: string
  /** UCUM codes: SI, and as read. */
  unit: string
  viewUnit: string
}

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
  named: readonly ParameterText[]
  /** Parameters for these points; NaN where they cannot be told. */
  fit(rows: readonly Row[]): number[]
  /** y at `row`, whose "y" is not looked at. */
  predict(parameters: readonly number[], row: Row): number
}
