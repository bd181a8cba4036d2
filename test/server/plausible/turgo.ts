import { printDoubt, printFault } from '../../../server/plant/load.ts'
import { readPlantText } from '../../../server/plantFiles.ts'

/** Values: the design sheet of the demo plant with the Turgo wheel (our own), at its rated point. */
export const TURGO = `headrace: 1
id: beck
name: Beck
use: offGrid
site:
  timeZone: UTC
  latitude: 54.5 deg
  altitude: 210 m
  waterTemperature: 10 Cel
  gravity: 9.81 m/s2
  waterDensity: 999.7 kg/m3
  elevations: { turbine: 212.4 m, inletGauge: 212.9 m, headwaterZero: 262 m }
turbine:
  kind: turgo
  jets: 2
  pitchDiameter: 175 mm
  nozzleBore: 32.0 mm
  nozzleCoefficient: 0.8966
  velocityCoefficient: 0.97
  inletBore: 198.2 mm
  ratedNetHead: 48 m
  ratedDischarge: 44.26 L/s
  ratedSpeed: 1500 /min
  ratedShaftPower: 16.67 kW
  runawaySpeed: 2763 /min
  driveRatio: 1
  efficiencyCurve: [[0.257, 0.745], [0.511, 0.80], [1.0, 0.80]]
generator:
  kind: synchronous
  polePairs: 2
  ratedPower: 15 kW
  ratedVoltage: 230 V
  ratedCurrent: 24.1 A
  ratedFrequency: 50 Hz
  ratedSpeed: 1500 /min
  overSpeedCapability: 2800 /min
  inertia: 1.2 kg.m2
penstock: { bore: 198.2 mm, length: 310 m, roughness: 0.05 mm, minorLoss: 2.6, waveSpeed: 290 m/s }
spillway: { crest: 1.5 m, width: 2 m, coefficient: 1.8 }
residualOutlet: { area: 0.02 m2, coefficient: 0.6, centre: 0.4 m }
battery: { ratedCharge: 400 A.h, ratedVoltage: 51.2 V, chargeEfficiency: 0.98 }
dump: { ratedPower: 18 kW }
orifice: { bore: 120 mm, pipeBore: 200 mm }
licence: { maximumDischarge: 45 L/s, dailyVolume: 3900 m3, annualVolume: 1250000 m3 }
instruments:
  - { id: level, role: headwaterLevel, topic: b/level, unit: m, range: [0, 3], accuracy: { absolute: 0.003 } }
  - { id: gauge, role: inletPressure, topic: b/p, unit: bar, range: [0, 10], accuracy: { span: 0.25 % } }
  - { id: meter, role: discharge, topic: b/q, unit: L/s, range: [0, 60], accuracy: { reading: 1 % } }
  - { id: power, role: activePower, topic: b/power, unit: kW, range: [0, 25], accuracy: { reading: 0.5 % } }
  - { id: speed, role: speed, topic: b/n, unit: /min, range: [0, 4000], accuracy: { absolute: 1 } }
`

/** What the check of a plant file says of it: all that is wrong, or what is doubtful or missing. */
export function checked(text: string, kind = 'doubtful'): { sentences: string[]; runs: boolean } {
  const read = readPlantText(text, '')
  if ('faults' in read) return { runs: false, sentences: read.faults.map((one) => printFault('', one)) }
  const { doubts = [] } = read.plant
  return {
    runs: true,
    sentences: doubts.filter((one) => (one.kind ?? 'doubtful') === kind).map((one) => printDoubt('', one)),
  }
}
