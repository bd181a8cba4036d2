import {
  magnetMachineVoltage,
  negativeSequenceRatio,
  phaseUnbalance,
  voltageBetween,
} from '../physics/electrical.ts'
import { frictionFactor } from '../physics/friction.ts'
import { gravityIec60041 } from '../physics/gravity.ts'
import {
  differentialMeter,
  orificeCornerTaps,
  orificeFlangeTaps,
  orificeRadiusTaps,
} from '../physics/orifice.ts'
import { boreArea, darcyLoss, meanVelocity, minorLoss, reynoldsNumber } from '../physics/pipe.ts'
import {
  specificSpeedByDischarge,
  specificSpeedByPower,
  unitDischarge,
  unitPower,
  unitSpeed,
} from '../physics/specificSpeed.ts'
import { bucketSpeed, idealJetFlow, jetVelocity } from '../physics/turbine.ts'
import { waterDensityTanaka, waterDensityUnderHead, waterKinematicViscosity } from '../physics/water.ts'
import { closurePressure, waterStartTime } from '../physics/waterHammer.ts'
import { broadCrestedWeir, rectangularWeir, vNotch } from '../physics/weir.ts'
import { type Dimension, unitOf } from '../wire/units.ts'
import { equal } from './dimensions.ts'
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
  waterDensityUnderHead: physical(waterDensityUnderHead, ['K', 'm'], 'kg/m3'),
  waterKinematicViscosity: physical(waterKinematicViscosity, ['K'], 'm2/s'),
  gravityIec60041: physical(gravityIec60041, ['rad', 'm'], 'm/s2'),
  jetVelocity: physical(jetVelocity, ['1', 'm', 'm/s2'], 'm/s'),
  idealJetFlow: physical(idealJetFlow, ['m', 'm', 'm/s2'], 'm3/s'),
  bucketSpeed: physical(bucketSpeed, ['rad/s', 'm'], 'm/s'),
  unitSpeed: physical(unitSpeed, ['rad/s', 'm', 'm'], '1'),
  unitDischarge: physical(unitDischarge, ['m3/s', 'm', 'm'], '1'),
  specificSpeed: physical(specificSpeedByDischarge, ['rad/s', 'm3/s', 'm'], '1'),
  specificSpeedByPower: physical(specificSpeedByPower, ['rad/s', 'W', 'm'], '1'),
  unitPower: physical(unitPower, ['W', 'm', 'm'], '1'),
  closurePressure: physical(closurePressure, ['kg/m3', 'm/s', 'm', 'm/s', 's'], 'Pa'),
  broadCrestedWeir: physical(broadCrestedWeir, ['1', 'm', 'm'], 'm3/s'),
  magnetMachineVoltage: physical(magnetMachineVoltage, ['V', 'Ohm', 'Ohm', 'A'], 'V'),
  waterStartTime: physical(waterStartTime, ['m', 'm/s', 'm', 'm/s2'], 's'),
  rectangularWeir: physical(rectangularWeir, ['m', 'm', 'm', 'm', 'm/s2'], 'm3/s'),
  vNotch: physical(vNotch, ['m', 'rad', 'm/s2'], 'm3/s'),
  orificeCornerTaps: physical(orificeCornerTaps, ['Pa', 'm', 'm', 'kg/m3', 'Pa.s'], 'm3/s'),
  orificeFlangeTaps: physical(orificeFlangeTaps, ['Pa', 'm', 'm', 'kg/m3', 'Pa.s'], 'm3/s'),
  orificeRadiusTaps: physical(orificeRadiusTaps, ['Pa', 'm', 'm', 'kg/m3', 'Pa.s'], 'm3/s'),
  differentialMeter: physical(differentialMeter, ['1', 'Pa', 'm', 'm', 'kg/m3'], 'm3/s'),
  phaseUnbalance: phaseLike(phaseUnbalance),
  negativeSequenceRatio: phaseLike(negativeSequenceRatio),
  voltageBetween: physical(voltageBetween, ['V', 'V', 'rad'], 'V'),
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

/** Three amounts of one unit in, a plain share out. */
function phaseLike(run: (...values: number[]) => number): FormulaFunction {
  return {
    run,
    ofLists: true,
    dimension: (args) => {
      const isAlike = args.length === 3 && args.every((one) => equal(one, args[0]!))
      return isAlike ? unitOf('1').dimension : 'expects three arguments of one unit'
    },
  }
}

function mismatch(
  args: readonly Dimension[],
  dimensions: readonly Dimension[],
  expected: readonly string[],
): string | undefined {
  if (args.length !== dimensions.length) return `expects ${dimensions.length} arguments, got ${args.length}`
  const wrong = args.findIndex((one, i) => !equal(one, dimensions[i]!))
  return wrong === -1 ? undefined : `argument ${wrong + 1} should be in ${expected[wrong]}`
}
