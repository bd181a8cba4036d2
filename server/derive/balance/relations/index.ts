import type { Relation } from '../relation.ts'
import { beltRatio } from './beltRatio.ts'
import { busNode } from './busNode.ts'
import { batteryAndDumpVoltage, batteryAndInverterVoltage } from './busVoltages.ts'
import { generatorPower } from './generatorPower.ts'
import { inverterPower } from './inverterPower.ts'
import { islandNode } from './islandNode.ts'
import { machineVoltage } from './machineVoltage.ts'
import { meterPower, meterPowerFactor } from './meterPower.ts'
import { nozzleFlow } from './nozzleFlow.ts'
import { penstockLoss } from './penstockLoss.ts'
import { phaseCurrents12, phaseCurrents23, phaseVoltages12, phaseVoltages23 } from './phaseSymmetry.ts'
import { pumpCurve } from './pumpCurve.ts'
import { pumpPipe } from './pumpPipe.ts'
import { rectifierOutput } from './rectifierOutput.ts'
import { rectifierVoltage } from './rectifierVoltage.ts'
import { speedAndFrequency } from './speedAndFrequency.ts'
import { turbinePower } from './turbinePower.ts'
import { waterToWire } from './waterToWire.ts'

/** Every relation, along the way of the power; a plant gets those whose instruments and constants it has. */
export const relations: readonly Relation[] = [
  pumpCurve,
  pumpPipe,
  penstockLoss,
  nozzleFlow,
  turbinePower,
  waterToWire,
  beltRatio,
  speedAndFrequency,
  generatorPower,
  meterPower,
  meterPowerFactor,
  phaseVoltages12,
  phaseVoltages23,
  phaseCurrents12,
  phaseCurrents23,
  machineVoltage,
  rectifierVoltage,
  rectifierOutput,
  busNode,
  batteryAndDumpVoltage,
  batteryAndInverterVoltage,
  inverterPower,
  islandNode,
]
