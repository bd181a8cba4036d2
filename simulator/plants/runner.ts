export interface RunnerDesign {
  /** Head [m] at which `speed` [rad/s] is the design speed. */
  head: number
  speed: number
  /** Runaway speed over design speed, at any head. */
  runawayRatio: number
  /** e in the torque law; with 1.5 the best speed is 0.543 of runaway, as impulse runners show. */
  exponent: number
}

export interface Jet {
  /** Power of the water that meets the runner [W]. */
  hydraulicPower: number
  netHead: number
  /** Efficiency at design speed for this discharge. */
  efficiency: number
}

/**
 * Torque of a runner: T = T₀ · (1 − (ω/ω_runaway)^e).
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
  const stallTorque = designTorque / (1 - runner.runawayRatio ** -runner.exponent)
  return stallTorque * (1 - (Math.max(0, speed) / (runner.runawayRatio * designSpeed)) ** runner.exponent)
}

/**
 * The exponent with which the design speed is that of best efficiency: x·(1 − x^e) is highest at
 * x = (1 + e)^(−1/e), which is to be 1/ratio. Found by halving.
 *
 * Limits: ratios of 1.26 … 2.7 (e of 10 … 0.01); beyond, the nearest of these.
 */
export function bestSpeedExponent(runawayRatio: number): number {
  let low = 0.01
  let high = 10
  for (let i = 0; i < 60; i++) {
    const e = (low + high) / 2
    if ((1 + e) ** (1 / e) > runawayRatio) low = e
    else high = e
  }
  return (low + high) / 2
}
