import type { Plant } from '../plant/plant.ts'
import { checkBands, checkCurves } from './bands.ts'
import { checkNeverRising } from './counterLimits.ts'
import { type Check, type Doubt, factsOf } from './doubt.ts'
import { checkBattery, checkFrequency, checkLineVoltage, checkLoads } from './electrical.ts'
import { checkInstruments } from './instruments.ts'
import {
  checkDrive,
  checkInertia,
  checkNozzles,
  checkPlate,
  checkPolePairs,
  checkPowers,
  checkRunaway,
  checkRunnerSpeed,
  checkVoltageConstant,
} from './machine.ts'
import { checkAccuracies, checkZeros } from './missing.ts'
import { checkLimits, checkOwnTemperatures } from './temperatures.ts'
import { checkElevations, checkLicence, checkOrifice, checkPenstock, checkVelocities } from './water.ts'

const checks: readonly Check[] = [
  checkBands,
  checkCurves,
  checkElevations,
  checkVelocities,
  checkPenstock,
  checkNozzles,
  checkOrifice,
  checkLicence,
  checkPowers,
  checkRunnerSpeed,
  checkRunaway,
  checkDrive,
  checkPolePairs,
  checkFrequency,
  checkPlate,
  checkLineVoltage,
  checkVoltageConstant,
  checkInertia,
  checkLoads,
  checkBattery,
  checkInstruments,
  checkAccuracies,
  checkZeros,
  checkNeverRising,
  checkOwnTemperatures,
  checkLimits,
]

/** Whatever a plant file says that can hardly be meant; nothing of it keeps the plant from running. */
export function doubtsAbout(plant: Plant): Doubt[] {
  const facts = factsOf(plant)
  return checks.flatMap((check) => check(facts))
}
