import type { InductionDesign } from './inductionGenerator.ts'
import type { EfficiencyDesign } from './lossCurve.ts'
import type { RunnerDesign } from './runner.ts'
import type { WaterwayDesign } from './waterway.ts'

/** The mill as it is "built"; kept apart from its plant file on purpose (see quennerbyDesign.ts). */
const GRAVITY = 9.81
const WATER_DENSITY = 999.7
export const RATED_HEAD = 20
/** Generator side [rad/s]. */
export const RATED_SPEED = (1012 * 2 * Math.PI) / 60
/** 90 kW / 0.935 / 0.97 / 0.80 over ρgH [m³/s]. */
export const RATED_DISCHARGE = 90000 / 0.935 / 0.97 / 0.8 / (WATER_DENSITY * GRAVITY * RATED_HEAD)

/** Over its gauge zero [m]; the draft tube makes it the level that the head ends at. */
export const TAILWATER_LEVEL = 0.61
export const WATERWAY: WaterwayDesign = {
  density: WATER_DENSITY,
  pipe: {
    bore: 0.7,
    length: 85,
    roughness: 1e-4,
    minorLoss: 2.2,
    viscosity: 1.307e-6,
    gravity: GRAVITY,
  },
  pond: { area: 1500, sluiceFlow: 0.12, sluiceLevel: 1.2, crest: 1.173, crestWidth: 6 },
  rack: { loss: 0.05, atDischarge: 0.6324 },
  // gauge zero of the headwater, tailwater (its gauge zero is at 40 m) and penstock gauge
  elevations: { pond: 60, outlet: 40 + TAILWATER_LEVEL, gauge: 42 },
  waves: { sigma: 0.003, timeConstant: 3 },
  initial: { level: 1.2, discharge: RATED_DISCHARGE },
}

/** Turbine efficiency over the share of rated discharge. */
export const TURBINE_EFFICIENCY = [
  [0.15, 0.6],
  [0.33, 0.75],
  [0.5, 0.775],
  [0.67, 0.79],
  [0.85, 0.805],
  [1, 0.8],
] as const
export const RUNNER: RunnerDesign = { head: RATED_HEAD, speed: RATED_SPEED, runawayRatio: 1.8 }
export const BELT = { ratio: 2.846, efficiency: 0.97 }
/** All turning masses, seen from the generator [kg·m²]: 3.2 + 45/2.846². */
export const INERTIA = 8.757

/** Input at 90 kW output [W]. */
const RATED_INPUT = 90000 / 0.935
export const LOSSES: EfficiencyDesign = {
  ratedInput: RATED_INPUT,
  curve: [
    [0.1, 0.78],
    [0.15, 0.82],
    [0.3, 0.89],
    [0.5, 0.92],
    [0.75, 0.935],
    [1, 0.935],
  ],
  noLoadLoss: 1400,
}
export const GENERATOR: InductionDesign = {
  synchronousSpeed: (1000 * 2 * Math.PI) / 60,
  ratedTorque: (RATED_INPUT - LOSSES.noLoadLoss) / RATED_SPEED,
  ratedSlip: 0.012,
  breakdownSlip: 0.06,
}
/** Reactive power [var] drawn without load and at 90 kW, and given by the fixed capacitors. */
export const REACTIVE = { noLoad: 38000, rated: 53400, capacitors: 35000 }
export const GRID_VOLTAGE = 400 / Math.sqrt(3)
/** Mains relay: the grid is gone for this long [s]. */
export const RELAY_DELAY = 0.06
/** Vanes: full stroke in 12 s when driven, in 8 s when falling. */
export const VANE_RATE = { driven: 1 / 12, falling: 1 / 8 }
/** Opening at which the machine is run up, and the share of synchronous speed at which it is connected. */
export const START = { opening: 0.12, connectAt: 0.995 }
export const HOUSE_TEMPERATURE = 288.15
export const WATER_TEMPERATURE = 283.15
