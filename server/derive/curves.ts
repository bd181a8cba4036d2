import type { Plant } from '../plant/plant.ts'
import { unitOf } from '../wire/units.ts'
import { CURVE_WEIGHTS, type CurveWeight } from './constantUncertainty.ts'
import { equal } from './dimensions.ts'
import { type FormulaFunction, interpolation } from './formulaFunctions.ts'
import type { CurvePath, Way } from './quantity.ts'

/** Curves of the plant file as functions that formulas may call. */

type Curve = [number, number][]

const CURVES: Record<CurvePath, { of: (plant: Plant) => Curve | undefined; from: string; to: string }> = {
  'turbine.efficiencyCurve': { of: ({ turbine }) => turbine?.efficiencyCurve, from: '1', to: '1' },
  'turbine.nozzleCurve': { of: ({ turbine }) => turbine?.nozzleCurve, from: '1', to: '1' },
  'generator.efficiencyCurve': { of: ({ generator }) => generator?.efficiencyCurve, from: '1', to: '1' },
  'inverter.efficiencyCurve': { of: ({ inverter }) => inverter?.efficiencyCurve, from: '1', to: '1' },
  'pump.headCurve': { of: ({ pump }) => pump?.headCurve, from: '1', to: '1' },
  'forebay.volumeCurve': { of: ({ forebay }) => forebay?.volumeCurve, from: 'm', to: 'm3' },
}

export function curveOf(plant: Plant, path: CurvePath): Curve | undefined {
  return CURVES[path].of(plant)
}

/** UCUM code of the SI unit of what a curve gives. */
export function curveUnit(path: CurvePath): string {
  return CURVES[path].to
}

/** @param slotOf Where the error of a curve stands in the column, and how it goes with the value. */
export function curveFunctions(
  plant: Plant,
  way: Way,
  slotOf: (path: CurvePath) => { slot: number; weight: CurveWeight } | undefined = () => undefined,
): Record<string, FormulaFunction> {
  return Object.fromEntries(
    Object.entries(way.curves ?? {}).map(([name, path]) => {
      const { from, to } = CURVES[path]
      const curve = withUnits(interpolation(curveOf(plant, path) ?? []), { name, from, to })
      const erring = slotOf(path)
      if (!erring) return [name, curve]
      return [name, { ...curve, error: { slot: erring.slot, move: CURVE_WEIGHTS[erring.weight] } }]
    }),
  )
}

function withUnits(
  curve: FormulaFunction,
  { name, from, to }: { name: string; from: string; to: string },
): FormulaFunction {
  const input = unitOf(from).dimension
  return {
    run: curve.run,
    dimension: (args) =>
      args.length === 1 && equal(args[0]!, input)
        ? unitOf(to).dimension
        : `${name} expects one amount in ${from}`,
  }
}
