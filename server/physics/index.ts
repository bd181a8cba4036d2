export {
  dischargeAtHead,
  powerAtHead,
  similarDischarge,
  similarPower,
  similarSpeed,
  speedAtHead,
} from './affinity.ts'
export {
  coulombStep,
  leadAcidStateOfCharge,
  leadAcidVoltage,
  lithiumCellVoltage,
  lithiumStateOfCharge,
} from './battery.ts'
export {
  METRIC_HORSEPOWER,
  REVOLUTION_PER_MINUTE,
  STANDARD_ATMOSPHERE,
  STANDARD_GRAVITY,
  ZERO_CELSIUS,
} from './constantsOfNature.ts'
export {
  directPower,
  generatorFrequency,
  negativeSequenceRatio,
  phaseUnbalance,
  powerFactor,
  reactivePower,
  singlePhasePower,
  slip,
  synchronousSpeed,
  threePhaseApparent,
  threePhasePower,
} from './electrical.ts'
export {
  capacityFactor,
  energyPerVolume,
  integrateTrapezoid,
  loadFactor,
  utilisationFactor,
} from './energy.ts'
export { bucketDischarge, pulseDischarge, type Vertical, velocityAreaDischarge } from './flowMeter.ts'
export {
  colebrookFriction,
  frictionFactor,
  haalandFriction,
  laminarFriction,
  swameeJainFriction,
} from './friction.ts'
export {
  copperLoss,
  greatestTerminalPower,
  magnetMachineVoltage,
  terminalPower,
  terminalVoltage,
  voltageRegulation,
} from './generator.ts'
export { gravityIec60041, gravityWgs84 } from './gravity.ts'
export {
  hydraulicPower,
  netHeadImpulse,
  netHeadReaction,
  pressureHead,
  pressureOfHead,
  totalHead,
  velocityHead,
} from './head.ts'
export { interpolate, type PointCurve } from './interpolate.ts'
export { californianEfficiency, europeanEfficiency, inverterPartLoad } from './inverter.ts'
export { classifyLoopCurrent, type LoopBand, loopToValue, valueToLoop } from './loopCurrent.ts'
export {
  differentialMeter,
  orificeCoefficient,
  orificeCornerTaps,
  orificeFlangeTaps,
  orificeOutflow,
  orificeRadiusTaps,
} from './orifice.ts'
export {
  crossFlowEfficiency,
  francisEfficiency,
  kaplanEfficiency,
  peltonEfficiency,
  propellerEfficiency,
  turgoEfficiency,
  USUAL_DESIGN_COEFFICIENT,
} from './partLoad.ts'
export {
  boreArea,
  darcyLoss,
  hazenWilliamsLoss,
  manningLoss,
  manningVelocity,
  meanVelocity,
  minorLoss,
  reynoldsNumber,
} from './pipe.ts'
export { mechanicalStartTime, runawayRatio, runawaySpeed, stallTorque, torqueAtSpeed } from './runaway.ts'
export {
  powerSpecificSpeed,
  specificSpeedByDischarge,
  specificSpeedByEnergy,
  specificSpeedByHorsepower,
  specificSpeedByPower,
  unitDischarge,
  unitPower,
  unitSpeed,
} from './specificSpeed.ts'
export {
  bucketEfficiency,
  bucketFactor,
  bucketForce,
  bucketPower,
  bucketSpeed,
  jetVelocity,
  speedRatio,
} from './turbine.ts'
export {
  waterBulkModulus,
  waterCompressibility,
  waterDensity,
  waterDensityKell,
  waterDensityTanaka,
  waterKinematicViscosity,
  waterSoundSpeed,
  waterVapourPressure,
  waterViscosity,
} from './water.ts'
export {
  closurePressure,
  criticalTime,
  joukowskyHead,
  joukowskyPressure,
  rigidColumnPressure,
  waterStartTime,
  waveSpeed,
} from './waterHammer.ts'
export { broadCrestedWeir, rectangularWeir, rehbockWeir, simpleWeir, vNotch, vNotch90 } from './weir.ts'
