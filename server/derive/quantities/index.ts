import type { Quantity } from '../quantity.ts'
import { activePower } from './activePower.ts'
import { batteryPower } from './batteryPower.ts'
import { dumpPower } from './dumpPower.ts'
import { dumpShare } from './dumpShare.ts'
import { frequency } from './frequency.ts'
import { generatorEfficiency } from './generatorEfficiency.ts'
import { gravity } from './gravity.ts'
import { grossHead } from './grossHead.ts'
import { headLoss } from './headLoss.ts'
import { hydraulicPower } from './hydraulicPower.ts'
import { inverterEfficiency } from './inverterEfficiency.ts'
import { inverterInputPower } from './inverterInputPower.ts'
import { kinematicViscosity } from './kinematicViscosity.ts'
import { netHead } from './netHead.ts'
import { openJets } from './openJets.ts'
import { pumpHead } from './pumpHead.ts'
import { pumpHydraulicPower } from './pumpHydraulicPower.ts'
import { rackDifferential } from './rackDifferential.ts'
import { rectifierPower } from './rectifierPower.ts'
import { shaftPower } from './shaftPower.ts'
import { specificEnergy } from './specificEnergy.ts'
import { speed } from './speed.ts'
import { turbineEfficiency } from './turbineEfficiency.ts'
import { waterDensity } from './waterDensity.ts'
import { waterToWireEfficiency } from './waterToWireEfficiency.ts'

/** Every figure that can be computed, from the water to the loads: the order in which people read them. */
export const quantities: readonly Quantity[] = [
  waterDensity,
  kinematicViscosity,
  gravity,
  rackDifferential,
  grossHead,
  netHead,
  headLoss,
  pumpHead,
  pumpHydraulicPower,
  hydraulicPower,
  openJets,
  speed,
  frequency,
  shaftPower,
  activePower,
  turbineEfficiency,
  generatorEfficiency,
  waterToWireEfficiency,
  rectifierPower,
  batteryPower,
  dumpPower,
  dumpShare,
  inverterInputPower,
  inverterEfficiency,
  specificEnergy,
]
