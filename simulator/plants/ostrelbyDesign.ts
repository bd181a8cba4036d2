import type { BatteryDesign } from './battery.ts'
import type { EfficiencyDesign } from './lossCurve.ts'
import type { RunnerDesign } from './runner.ts'
import type { SynchronousDesign } from './synchronousGenerator.ts'
import type { WaterwayDesign } from './waterway.ts'

/** The off-grid plant as it is "built"; kept apart from its plant file on purpose (see quennerbyDesign.ts). */
const GRAVITY = 9.81
const WATER_DENSITY = 999.7
export const RATED_SPEED = (1500 * 2 * Math.PI) / 60
export const RATED_HEAD = 48

/** 15 kW / 0.90 / 0.80 over ρgH, by two jets [m³/s]. */
export const JET_DISCHARGE = 15000 / 0.9 / 0.8 / (WATER_DENSITY * GRAVITY * RATED_HEAD) / 2
/** Turbine efficiency over the opening of a spear. */
export const SPEAR_EFFICIENCY = [
  [0.25, 0.62],
  [0.5, 0.745],
  [0.75, 0.79],
  [1, 0.8],
] as const

export const WATERWAY: WaterwayDesign = {
  density: WATER_DENSITY,
  pipe: {
    bore: 0.1982,
    length: 310,
    roughness: 5e-5,
    minorLoss: 2.6,
    viscosity: 1.307e-6,
    gravity: GRAVITY,
  },
  pond: { area: 60, sluiceFlow: 0.0127, sluiceLevel: 1.52, crest: 1.507, crestWidth: 2 },
  rack: { loss: 0.02, atDischarge: 0.04426 },
  // forebay gauge zero, jets and penstock gauge
  elevations: { pond: 262, outlet: 212.4, gauge: 212.9 },
  waves: { sigma: 0.002, timeConstant: 2 },
  initial: { level: 1.52, discharge: 2 * JET_DISCHARGE },
}

export const RUNNER: RunnerDesign = { head: RATED_HEAD, speed: RATED_SPEED, runawayRatio: 2.5 ** (2 / 3) }
export const INERTIA = 1.2

export const GENERATOR: SynchronousDesign = {
  ratedVoltage: 230,
  ratedSpeed: RATED_SPEED,
  polePairs: 2,
  synchronousReactance: 14.4,
  transientReactance: 1.44,
  fieldTimeConstant: 1.5,
}
/** Iron, windage and bearings, excitation and copper together. */
export const LOSSES: EfficiencyDesign = {
  ratedInput: 15000 / 0.9,
  curve: [
    [0.1, 0.7],
    [0.25, 0.83],
    [0.5, 0.875],
    [0.75, 0.895],
    [1, 0.9],
  ],
  noLoadLoss: 400,
}

/** Frequency band of the dump load [Hz] and its power [W]. */
export const DUMP = { power: 18000, regulation: { from: 50, full: 51.5, lag: 0.03 } }
/** Battery inverter: charges above the first pair of frequencies, discharges below the second. */
export const STORAGE = {
  charge: { from: 50, full: 50.2, power: 3000 },
  discharge: { from: 49.8, full: 49, power: 10000 },
  lag: 0.03,
  /** One way. */
  efficiency: 0.95,
}
export const BATTERY: BatteryDesign = {
  cells: 16,
  capacity: 400 * 3600,
  resistance: 0.008,
  chargeEfficiency: 0.99,
}

export const VILLAGE_POWER_FACTOR = 0.95
export const MILL = { power: 4000, powerFactor: 0.8 }

/** Over-speed switch on the deflector; under-frequency switch on the village [Hz, s]. */
export const DEFLECTOR = { level: 1.2, delay: 0.02, rate: 1 / 0.3, returnRate: 1 / 3 }
export const UNDER_FREQUENCY = { level: 46, delay: 1, reconnect: 48.5 }
/** Spears travel their stroke in 15 s, to spare the penstock. */
export const SPEAR_RATE = 1 / 15
export const HOUSE_TEMPERATURE = 288.15
export const WATER_TEMPERATURE = 283.15
