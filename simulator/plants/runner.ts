export interface RunnerDesign {
  /** Head [m] at which `speed` [rad/s] is the design speed. */
  head: number
  speed: number
  /** Runaway speed over design speed, at any head. */
  runawayRatio: number
}

export interface Jet {
  /** Power of the water that meets the runner [W]. */
  hydraulicPower: number
  netHead: number
  /** Efficiency at design speed for this discharge. */
  efficiency: number
}

/** Exponent of the torque law; with 1.5 the best speed is 0.543 of runaway, as impulse runners show. */
const EXPONENT = 1.5

/**
 * Torque of a runner that behaves like an impulse wheel: T = T₀ · (1 − (ω/ω_runaway)^1.5).
 * Design and runaway speed go with the jet velocity, hence with √H; T₀ follows from the efficiency at
 * design speed. Runaway is not a setting: it is where this torque meets what is left of the load.
 *
 * @returns Torque at the shaft [N·m]; 0 without water.
 * Source: our own design figures (data sheets of the three sites).
 */
export function runnerTorque(runner: RunnerDesign, jet: Jet, speed: number): number {
  if (jet.netHead <= 0 || jet.hydraulicPower <= 0) return 0
  const designSpeed = runner.speed * Math.sqrt(jet.netHead / runner.head)
  const designTorque = (jet.hydraulicPower * jet.efficiency) / designSpeed
  const stallTorque = designTorque / (1 - runner.runawayRatio ** -EXPONENT)
  return stallTorque * (1 - (Math.max(0, speed) / (runner.runawayRatio * designSpeed)) ** EXPONENT)
}
