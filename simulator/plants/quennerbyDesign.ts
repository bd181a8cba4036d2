import type { BatteryDesign } from './battery.ts'
import type { ChargerDesign } from './charger.ts'
import type { InverterDesign } from './inverter.ts'
import type { PermanentMagnetDesign } from './permanentMagnetGenerator.ts'
import type { PumpDesign } from './pump.ts'
import type { RunnerDesign } from './runner.ts'
import type { PipeDesign } from './waterColumn.ts'

/**
 * The teaching rig as it is "built". The plant file describes the same rig to the server; the two are kept apart
 * on purpose, so that a wrong number in one shows as a difference between truth and derived figure.
 */
export const GRAVITY = 9.81
export const WATER_DENSITY = 998.2
export const RATED_SPEED = (1500 * 2 * Math.PI) / 60
export const RATED_HEAD = 24

const NOZZLE_AREA = (Math.PI / 4) * 7.5e-3 ** 2
/** C_d · A · √(2gH) of one nozzle at rated head [m³/s]. */
export const JET_DISCHARGE = 0.94 * NOZZLE_AREA * Math.sqrt(2 * GRAVITY * RATED_HEAD)

export const PIPE: PipeDesign = {
  bore: 0.0525,
  length: 4,
  roughness: 1.5e-6,
  minorLoss: 12,
  viscosity: 1.004e-6,
  gravity: GRAVITY,
}
/**
 * Throttle valve between delivery gauge and manifold, equal-percentage: K = K_open·R^(2·(1 − opening)). What it loses
 * when open is part of the ΣK of the pipe. Source: usual valve characteristic (from memory).
 */
export const THROTTLE = { openLoss: 2, rangeability: 50 }
/** Nozzles over the water in the sump [m]. */
export const LIFT = 0.9
/** Manifold gauge over the nozzles, and delivery gauge over the water in the sump [m]. */
export const MANIFOLD_GAUGE = 0.1
export const DELIVERY_GAUGE = 0.3
export const STRAINER = { loss: 0.02, atDischarge: 3.605e-3 }

export const PUMP: PumpDesign = {
  shutOffHead: 36,
  // 36.0 m − 26.797 m at 3.6046 L/s and full speed
  slope: 0.7083222762e6,
  bestDischarge: 3.8e-3,
  bestEfficiency: 0.62,
  motorEfficiency: 0.84,
  driveEfficiency: 0.96,
}

export const RUNNER: RunnerDesign = { head: RATED_HEAD, speed: RATED_SPEED, runawayRatio: 2.5 ** (2 / 3) }
/** Turbine efficiency over the number of open jets. */
export const JET_EFFICIENCY = [
  [1, 0.62],
  [2, 0.685],
  [3, 0.7],
  [4, 0.7],
] as const

export const ROTOR_INERTIA = 0.02
export const FLYWHEEL_INERTIA = 0.06

export const GENERATOR: PermanentMagnetDesign = {
  emfConstant: (0.018 * 60) / (2 * Math.PI),
  polePairs: 2,
  resistance: 0.28,
  inductance: 2e-3,
  ironLoss: 20,
  windageLoss: 20,
  ratedSpeed: RATED_SPEED,
}
/** Over-speed brake: resistors [Ω] in star at the terminals, switch level, time to close [s]. */
export const BRAKE = { resistance: 2.5, level: 1.2, delay: 0.04 }

export const CHARGER: ChargerDesign = {
  rectifierEfficiency: 0.93 / 0.95,
  converterEfficiency: 0.95,
  lowestInput: 30,
  highestInput: 150,
  highestOutput: 25,
  highestBattery: 29.2,
  restartBattery: 28,
}

export const BATTERY: BatteryDesign = {
  cells: 8,
  capacity: 50 * 3600,
  resistance: 0.012,
  chargeEfficiency: 0.99,
}
export const DUMP = { resistance: 1.25, regulation: { from: 27.8, full: 28, lag: 0.02 } }

/** 90.0 % at 420 W output, as the data sheet says for 70 % load. */
export const INVERTER: InverterDesign = {
  noLoadPower: 9,
  linearLoss: 0.05,
  squareLoss: 9.45e-5,
  ratedPower: 600,
  cutOff: 22.4,
  restart: 25.2,
}
export const LOADS = { lamp: 60, heater: 200, motor: 120 }

export const SUMP = { volume: 0.35, level: 0.5, area: 0.7, heatLoss: 1 / 120 }
export const ROOM_TEMPERATURE = 293.15
