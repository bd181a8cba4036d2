import { frictionFactor } from '../physics/friction.ts'
import { gravityIec60041 } from '../physics/gravity.ts'
import { boreArea, darcyLoss, meanVelocity, minorLoss, reynoldsNumber } from '../physics/pipe.ts'
import { waterDensityTanaka, waterKinematicViscosity } from '../physics/water.ts'
import { type Dimension, unitOf } from '../plant/units.ts'
import type { FormulaFunction } from './formulaFunctions.ts'

/** The functions of server/physics that formulas may call, with the units of their arguments and result. */
export const physicalFunctions: Record<string, FormulaFunction> = {
  boreArea: physical(boreArea, ['m'], 'm2'),
  meanVelocity: physical(meanVelocity, ['m3/s', 'm'], 'm/s'),
  reynoldsNumber: physical(reynoldsNumber, ['m/s', 'm', 'm2/s'], '1'),
  frictionFactor: physical(frictionFactor, ['1', '1'], '1'),
  darcyLoss: physical(darcyLoss, ['1', 'm', 'm', 'm/s', 'm/s2'], 'm'),
  minorLoss: physical(minorLoss, ['1', 'm/s', 'm/s2'], 'm'),
  waterDensityTanaka: physical(waterDensityTanaka, ['K'], 'kg/m3'),
  waterKinematicViscosity: physical(waterKinematicViscosity, ['K'], 'm2/s'),
  gravityIec60041: physical(gravityIec60041, ['rad', 'm'], 'm/s2'),
  standardGravity: physical(() => 9.80665, [], 'm/s2'),
}

function physical(
  run: (...values: number[]) => number,
  expected: readonly string[],
  result: string,
): FormulaFunction {
  const dimensions = expected.map((code) => unitOf(code).dimension)
  const output = unitOf(result).dimension
  return { run, dimension: (args) => mismatch(args, dimensions, expected) ?? output }
}

function mismatch(
  args: readonly Dimension[],
  dimensions: readonly Dimension[],
  expected: readonly string[],
): string | undefined {
  if (args.length !== dimensions.length) return `expects ${dimensions.length} arguments, got ${args.length}`
  const wrong = args.findIndex((one, i) =>
    one.some((exponent, k) => Math.abs(exponent - dimensions[i]![k]!) > 1e-9),
  )
  return wrong === -1 ? undefined : `argument ${wrong + 1} should be in ${expected[wrong]}`
}
