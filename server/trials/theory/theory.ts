/**
 * What the plant file itself predicts for a trial: its reference curves and constants, in SI. Plain values, kept with
 * the run, so that the line stays what it was when the run was made.
 */
export interface Theory {
  /** Where it stands in the plant file, e.g. "turbine.efficiencyCurve". */
  from: string
  law: TheoryLaw
  /** Abscissa in unit quantities = abscissa times this; absent where the trial has none, or a rating is missing. */
  unitFactor?: number
}

export type TheoryLaw =
  /** A curve of fit/models with the constants of the plant file as its parameters. */
  | { kind: 'model'; model: string; parameters: number[] }
  /** Straight lines between points, no further than they reach. */
  | { kind: 'table'; points: [x: number, y: number][] }
  /** The same at full speed; at share s of it x grows with s and y with s² (affinity laws). `speed` is its symbol. */
  | { kind: 'affine'; points: [x: number, y: number][]; speed: string }
