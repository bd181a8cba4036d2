/**
 * Figures that other figures are computed with, or that a designer compares: true, but not what somebody
 * who looks after the plant comes for. They stand folded below the others.
 */
export const background: ReadonlySet<string> = new Set([
  'waterDensity',
  'kinematicViscosity',
  'gravity',
  'waterStartTime',
  'mechanicalTimeConstant',
  'surgeHead',
  'jetVelocity',
  'speedRatio',
  'unitSpeed',
  'unitDischarge',
  'specificSpeed',
  'idealSpecificEnergy',
  'pondLevel',
  'netHeadSlope',
  'closureHead',
  'lossOverOptimum',
  'nozzleFlow',
  'headSpeedRatio',
  'unitPower',
  'powerSpecificSpeed',
  'speedSlope',
  'kineticEnergy',
  'modelledPumpHead',
  'noLoadVoltage',
  'internalEmf',
  'modelledVoltage',
  'copperLoss',
  'batteryPowerMean',
])
