import type { Quantity } from '../quantity.ts'
import { activePower } from './activePower.ts'
import { apparentPower } from './apparentPower.ts'
import { availablePower } from './availablePower.ts'
import { batteryPower } from './batteryPower.ts'
import { chainEfficiency } from './chainEfficiency.ts'
import { chargerEfficiency } from './chargerEfficiency.ts'
import { chargerLoss } from './chargerLoss.ts'
import { currentUnbalance } from './currentUnbalance.ts'
import { discharge } from './discharge.ts'
import { dumpPower } from './dumpPower.ts'
import { dumpShare } from './dumpShare.ts'
import { frequency } from './frequency.ts'
import { generatorEfficiency } from './generatorEfficiency.ts'
import { generatorLoss } from './generatorLoss.ts'
import { gravity } from './gravity.ts'
import { grossHead } from './grossHead.ts'
import { headLoss } from './headLoss.ts'
import { hydraulicPower } from './hydraulicPower.ts'
import { idealSpecificEnergy } from './idealSpecificEnergy.ts'
import { inverterEfficiency } from './inverterEfficiency.ts'
import { inverterInputPower } from './inverterInputPower.ts'
import { inverterLoss } from './inverterLoss.ts'
import { jetVelocity } from './jetVelocity.ts'
import { kinematicViscosity } from './kinematicViscosity.ts'
import { licenceShare } from './licenceShare.ts'
import { lossCoefficient } from './lossCoefficient.ts'
import { lossExcess } from './lossExcess.ts'
import { lossShare } from './lossShare.ts'
import { meanPhaseCurrent } from './meanPhaseCurrent.ts'
import { meanPhaseVoltage } from './meanPhaseVoltage.ts'
import { mechanicalTimeConstant } from './mechanicalTimeConstant.ts'
import { meterFlow } from './meterFlow.ts'
import { modelledHeadLoss } from './modelledHeadLoss.ts'
import { netHead } from './netHead.ts'
import { nozzleHealth } from './nozzleHealth.ts'
import { openJets } from './openJets.ts'
import { powerFactor } from './powerFactor.ts'
import { pumpHead } from './pumpHead.ts'
import { pumpHydraulicPower } from './pumpHydraulicPower.ts'
import { pumpSetLoss } from './pumpSetLoss.ts'
import { rackCoefficient } from './rackCoefficient.ts'
import { rackDifferential } from './rackDifferential.ts'
import { reactivePower } from './reactivePower.ts'
import { rectifierLoss } from './rectifierLoss.ts'
import { rectifierPower } from './rectifierPower.ts'
import { residualShare } from './residualShare.ts'
import { shaftPower } from './shaftPower.ts'
import { slip } from './slip.ts'
import { specificEnergy } from './specificEnergy.ts'
import { specificSpeed } from './specificSpeed.ts'
import { speed } from './speed.ts'
import { speedDisagreement } from './speedDisagreement.ts'
import { speedRatio } from './speedRatio.ts'
import { surgeHead } from './surgeHead.ts'
import { turbineEfficiency } from './turbineEfficiency.ts'
import { turbineLoss } from './turbineLoss.ts'
import { turbineSpeed } from './turbineSpeed.ts'
import { unitDischarge } from './unitDischarge.ts'
import { unitSpeed } from './unitSpeed.ts'
import { usefulPower } from './usefulPower.ts'
import { voltageUnbalance } from './voltageUnbalance.ts'
import { waterDensity } from './waterDensity.ts'
import { waterStartTime } from './waterStartTime.ts'
import { waterToWireEfficiency } from './waterToWireEfficiency.ts'
import { weirFlow } from './weirFlow.ts'

/** Every figure that can be computed, from the water to the loads: the order in which people read them. */
export const quantities: readonly Quantity[] = [
  waterDensity,
  kinematicViscosity,
  gravity,
  meterFlow,
  weirFlow,
  discharge,
  rackDifferential,
  rackCoefficient,
  grossHead,
  netHead,
  headLoss,
  modelledHeadLoss,
  lossExcess,
  lossShare,
  lossCoefficient,
  surgeHead,
  waterStartTime,
  pumpHead,
  pumpHydraulicPower,
  pumpSetLoss,
  availablePower,
  hydraulicPower,
  openJets,
  nozzleHealth,
  speed,
  turbineSpeed,
  frequency,
  slip,
  speedDisagreement,
  jetVelocity,
  speedRatio,
  unitSpeed,
  unitDischarge,
  specificSpeed,
  mechanicalTimeConstant,
  shaftPower,
  activePower,
  apparentPower,
  powerFactor,
  reactivePower,
  voltageUnbalance,
  currentUnbalance,
  meanPhaseVoltage,
  meanPhaseCurrent,
  turbineEfficiency,
  turbineLoss,
  generatorEfficiency,
  generatorLoss,
  waterToWireEfficiency,
  rectifierPower,
  rectifierLoss,
  batteryPower,
  dumpPower,
  dumpShare,
  usefulPower,
  chargerEfficiency,
  chargerLoss,
  inverterInputPower,
  inverterEfficiency,
  inverterLoss,
  chainEfficiency,
  specificEnergy,
  idealSpecificEnergy,
  licenceShare,
  residualShare,
]
