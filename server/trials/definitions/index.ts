import type { Trial } from '../trial.ts'
import { batteryBalance } from './batteryBalance.ts'
import { efficiencyDischarge } from './efficiencyDischarge.ts'
import { efficiencySpeed } from './efficiencySpeed.ts'
import { generatorCharacteristic } from './generatorCharacteristic.ts'
import { inverterEfficiency } from './inverterEfficiency.ts'
import { jetsOrThrottling } from './jetsOrThrottling.ts'
import { loadRejection } from './loadRejection.ts'
import { loadStep } from './loadStep.ts'
import { nozzleLaw } from './nozzleLaw.ts'
import { pipeLoss } from './pipeLoss.ts'
import { powerBalance } from './powerBalance.ts'
import { pumpCurve } from './pumpCurve.ts'
import { runDown } from './runDown.ts'
import { torqueSpeed } from './torqueSpeed.ts'
import { voltageWithoutLoad } from './voltageWithoutLoad.ts'

/** Every trial, in the order in which a class meets them: first those of points, then those of traces. */
export const trials: readonly Trial[] = [
  efficiencyDischarge,
  efficiencySpeed,
  torqueSpeed,
  generatorCharacteristic,
  voltageWithoutLoad,
  nozzleLaw,
  pumpCurve,
  inverterEfficiency,
  jetsOrThrottling,
  pipeLoss,
  powerBalance,
  runDown,
  loadStep,
  batteryBalance,
  loadRejection,
]
