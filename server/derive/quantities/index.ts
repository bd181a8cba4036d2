import type { Quantity } from '../quantity.ts'
import { activePower } from './activePower.ts'
import { apparentPower } from './apparentPower.ts'
import { availablePower } from './availablePower.ts'
import { batteryPower } from './batteryPower.ts'
import { batteryPowerMean } from './batteryPowerMean.ts'
import { bearingRise } from './bearingRise.ts'
import { chainEfficiency } from './chainEfficiency.ts'
import { chargerEfficiency } from './chargerEfficiency.ts'
import { chargerLoss } from './chargerLoss.ts'
import { closureHead } from './closureHead.ts'
import { copperLoss } from './copperLoss.ts'
import { currentUnbalance } from './currentUnbalance.ts'
import { dcLoadPower } from './dcLoadPower.ts'
import { discharge } from './discharge.ts'
import { dumpPower } from './dumpPower.ts'
import { dumpShare } from './dumpShare.ts'
import { forebayGain } from './forebayGain.ts'
import { forebayVolume } from './forebayVolume.ts'
import { frequency } from './frequency.ts'
import { generatorEfficiency } from './generatorEfficiency.ts'
import { generatorLoss } from './generatorLoss.ts'
import { gravity } from './gravity.ts'
import { grossHead } from './grossHead.ts'
import { headLoss } from './headLoss.ts'
import { headSpeedRatio } from './headSpeedRatio.ts'
import { hydraulicPower } from './hydraulicPower.ts'
import { idealSpecificEnergy } from './idealSpecificEnergy.ts'
import { internalEmf } from './internalEmf.ts'
import { inverterEfficiency } from './inverterEfficiency.ts'
import { inverterInputPower } from './inverterInputPower.ts'
import { inverterLoss } from './inverterLoss.ts'
import { jetFlow } from './jetFlow.ts'
import { jetHealth } from './jetHealth.ts'
import { jetVelocity } from './jetVelocity.ts'
import { kinematicViscosity } from './kinematicViscosity.ts'
import { kineticEnergy } from './kineticEnergy.ts'
import { kineticPower } from './kineticPower.ts'
import { licenceShare } from './licenceShare.ts'
import { lossCoefficient } from './lossCoefficient.ts'
import { lossOverOptimum } from './lossOverOptimum.ts'
import { lossShare } from './lossShare.ts'
import { lostPower } from './lostPower.ts'
import { meanPhaseCurrent } from './meanPhaseCurrent.ts'
import { meanPhaseVoltage } from './meanPhaseVoltage.ts'
import { mechanicalTimeConstant } from './mechanicalTimeConstant.ts'
import { meterFlow } from './meterFlow.ts'
import { modelledHeadLoss } from './modelledHeadLoss.ts'
import { modelledPumpHead } from './modelledPumpHead.ts'
import { modelledVoltage } from './modelledVoltage.ts'
import { netHead } from './netHead.ts'
import { netHeadSlope } from './netHeadSlope.ts'
import { noLoadVoltage } from './noLoadVoltage.ts'
import { nozzleCoefficient } from './nozzleCoefficient.ts'
import { nozzleFlow } from './nozzleFlow.ts'
import { nozzleHealth } from './nozzleHealth.ts'
import { openJets } from './openJets.ts'
import { pipeLoss } from './pipeLoss.ts'
import { plantEfficiency } from './plantEfficiency.ts'
import { pondLevel } from './pondLevel.ts'
import { powerFactor } from './powerFactor.ts'
import { powerSpecificSpeed } from './powerSpecificSpeed.ts'
import { pumpEfficiency } from './pumpEfficiency.ts'
import { pumpHead } from './pumpHead.ts'
import { pumpHydraulicPower } from './pumpHydraulicPower.ts'
import { pumpSetLoss } from './pumpSetLoss.ts'
import { pumpToWireEfficiency } from './pumpToWireEfficiency.ts'
import { rackCoefficient } from './rackCoefficient.ts'
import { rackDifferential } from './rackDifferential.ts'
import { reactivePower } from './reactivePower.ts'
import { rectifierEfficiency } from './rectifierEfficiency.ts'
import { rectifierLoss } from './rectifierLoss.ts'
import { rectifierPower } from './rectifierPower.ts'
import { residualFlow } from './residualFlow.ts'
import { residualShare } from './residualShare.ts'
import { shaftPower } from './shaftPower.ts'
import { slip } from './slip.ts'
import { specificEnergy } from './specificEnergy.ts'
import { specificSpeed } from './specificSpeed.ts'
import { speed } from './speed.ts'
import { speedRatio } from './speedRatio.ts'
import { speedSlope } from './speedSlope.ts'
import { spillFlow } from './spillFlow.ts'
import { staticHeadExcess } from './staticHeadExcess.ts'
import { surgeHead } from './surgeHead.ts'
import { timeToDrain } from './timeToDrain.ts'
import { timeToEmpty } from './timeToEmpty.ts'
import { timeToFull } from './timeToFull.ts'
import { timeToSpill } from './timeToSpill.ts'
import { turbineEfficiency } from './turbineEfficiency.ts'
import { turbineLoss } from './turbineLoss.ts'
import { turbineSpeed } from './turbineSpeed.ts'
import { unitDischarge } from './unitDischarge.ts'
import { unitPower } from './unitPower.ts'
import { unitSpeed } from './unitSpeed.ts'
import { unmetPower } from './unmetPower.ts'
import { usefulPower } from './usefulPower.ts'
import { usefulShare } from './usefulShare.ts'
import { voltageRegulation } from './voltageRegulation.ts'
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
  pondLevel,
  spillFlow,
  residualFlow,
  forebayVolume,
  forebayGain,
  timeToSpill,
  timeToDrain,
  discharge,
  rackDifferential,
  rackCoefficient,
  grossHead,
  netHead,
  netHeadSlope,
  headLoss,
  modelledHeadLoss,
  lossShare,
  lossOverOptimum,
  lossCoefficient,
  surgeHead,
  closureHead,
  waterStartTime,
  staticHeadExcess,
  pumpHead,
  pumpHydraulicPower,
  pumpSetLoss,
  pumpEfficiency,
  modelledPumpHead,
  availablePower,
  hydraulicPower,
  lostPower,
  openJets,
  nozzleCoefficient,
  nozzleFlow,
  jetFlow,
  nozzleHealth,
  ...jetHealth,
  speed,
  turbineSpeed,
  frequency,
  slip,
  jetVelocity,
  speedRatio,
  headSpeedRatio,
  unitSpeed,
  unitDischarge,
  unitPower,
  specificSpeed,
  powerSpecificSpeed,
  mechanicalTimeConstant,
  speedSlope,
  kineticEnergy,
  kineticPower,
  bearingRise,
  shaftPower,
  activePower,
  apparentPower,
  powerFactor,
  reactivePower,
  noLoadVoltage,
  internalEmf,
  modelledVoltage,
  voltageRegulation,
  copperLoss,
  voltageUnbalance,
  currentUnbalance,
  meanPhaseVoltage,
  meanPhaseCurrent,
  turbineEfficiency,
  turbineLoss,
  generatorEfficiency,
  generatorLoss,
  waterToWireEfficiency,
  pipeLoss,
  plantEfficiency,
  rectifierPower,
  rectifierLoss,
  rectifierEfficiency,
  batteryPower,
  batteryPowerMean,
  timeToFull,
  timeToEmpty,
  dumpPower,
  dumpShare,
  dcLoadPower,
  usefulPower,
  usefulShare,
  unmetPower,
  chargerEfficiency,
  chargerLoss,
  inverterInputPower,
  inverterEfficiency,
  inverterLoss,
  chainEfficiency,
  pumpToWireEfficiency,
  specificEnergy,
  idealSpecificEnergy,
  licenceShare,
  residualShare,
]
