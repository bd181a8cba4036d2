import type { Plant } from '../../plant/plant.ts'

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

/** The lines that a plant file gives for the trials, one function a trial; undefined where it lacks something. */

/** Efficiency over discharge, from shares of the rated discharge; unit discharge as in Q₁₁ = Q/(D²·√H). */
export function turbineTheory({ turbine, constants }: Plant): Theory | undefined {
  const rated = constants.get('turbine.ratedDischarge')
  const theory = efficiencyTheory('turbine.efficiencyCurve', turbine?.efficiencyCurve, rated)
  const diameter = constants.get('turbine.pitchDiameter')
  const head = constants.get('turbine.ratedNetHead')
  if (!theory || diameter === undefined || head === undefined) return theory
  return { ...theory, unitFactor: 1 / (diameter ** 2 * Math.sqrt(head)) }
}

/** Voltage over current, from voltage constant, resistance and inductance of a phase. */
export function generatorTheory({ constants }: Plant): Theory | undefined {
  const paths = ['generator.voltageConstant', 'generator.windingResistance', 'generator.windingInductance']
  return modelTheory('permanentMagnet', paths, constants)
}

export function voltageTheory({ constants }: Plant): Theory | undefined {
  return modelTheory('voltageConstant', ['generator.voltageConstant'], constants)
}

export function nozzleTheory({ constants }: Plant): Theory | undefined {
  return modelTheory('nozzleLaw', ['turbine.nozzleCoefficient'], constants)
}

/** Head over discharge at the speed of the run. */
export function pumpTheory({ pump, constants }: Plant): Theory | undefined {
  const discharge = constants.get('pump.ratedDischarge')
  const head = constants.get('pump.ratedHead')
  if (!pump?.headCurve || discharge === undefined || head === undefined) return undefined
  const points = scaled(pump.headCurve, discharge, head)
  return { from: 'pump.headCurve', law: { kind: 'affine', points, speed: 's' } }
}

/** Efficiency over output, from shares of the rated power. */
export function inverterTheory({ inverter, constants }: Plant): Theory | undefined {
  return efficiencyTheory(
    'inverter.efficiencyCurve',
    inverter?.efficiencyCurve,
    constants.get('inverter.ratedPower'),
  )
}

type Curve = readonly (readonly [number, number])[]

function efficiencyTheory(
  from: string,
  curve: Curve | undefined,
  rated: number | undefined,
): Theory | undefined {
  return curve && rated !== undefined
    ? { from, law: { kind: 'table', points: scaled(curve, rated, 1) } }
    : undefined
}

function modelTheory(
  model: string,
  paths: readonly string[],
  constants: Plant['constants'],
): Theory | undefined {
  const parameters = paths.map((path) => constants.get(path))
  if (!parameters.every((one) => one !== undefined)) return undefined
  return { from: paths.join(', '), law: { kind: 'model', model, parameters } }
}

function scaled(curve: Curve, x: number, y: number): [number, number][] {
  return curve.map(([atX, atY]) => [atX * x, atY * y])
}
