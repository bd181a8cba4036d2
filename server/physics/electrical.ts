/** Electrical power, frequency and unbalance. Voltages and currents are RMS; speeds in rad/s. */

/**
 * Active power of a balanced three-phase circuit:  P = √3·U·I·cos φ
 *
 * @param lineVoltage Line-to-line voltage U [V].
 * @param current Line current I [A].
 * @param powerFactor cos φ [–].
 * @returns P [W].
 *
 * Limits: balanced, sinusoidal; with a rectifier load use the measured P, since pf is not cos φ.
 * Example: 400, 10, 0.85 → 5888.97.
 * Source: IEC 60050-141 definition of three-phase power.
 */
export function threePhasePower(lineVoltage: number, current: number, powerFactor: number): number {
  return Math.sqrt(3) * lineVoltage * current * powerFactor
}

/**
 * Apparent power of a balanced three-phase circuit:  S = √3·U·I
 *
 * @param lineVoltage Line-to-line voltage U [V].
 * @param current Line current I [A].
 * @returns S [VA].
 *
 * Limits: balanced.
 * Example: 400, 10 → 6928.20.
 * Source: IEC 60050-141.
 */
export function threePhaseApparent(lineVoltage: number, current: number): number {
  return Math.sqrt(3) * lineVoltage * current
}

/**
 * Active power of a single-phase circuit:  P = U·I·cos φ
 *
 * @param voltage U [V].
 * @param current I [A].
 * @param powerFactor cos φ [–].
 * @returns P [W].
 *
 * Limits: sinusoidal.
 * Example: 230, 8.7, 0.92 → 1840.92.
 * Source: IEC 60050-131 definition of active power.
 */
export function singlePhasePower(voltage: number, current: number, powerFactor: number): number {
  return voltage * current * powerFactor
}

/**
 * Power of a direct-current branch:  P = U·I
 *
 * @param voltage U [V].
 * @param current I [A], positive in the branch's counting direction.
 * @returns P [W], with the sign of the current.
 *
 * Limits: mean values of smooth quantities; with ripple the mean of u·i is more.
 * Example: 52.5, 5 → 262.5.
 * Source: definition.
 */
export function directPower(voltage: number, current: number): number {
  return voltage * current
}

/**
 * Reactive power, magnitude:  Q = √(S² − P²)
 *
 * @param apparentPower S [VA].
 * @param activePower P [W].
 * @returns Q [var], without sign. NaN when |P| exceeds S: the two readings contradict each other.
 *
 * Limits: sinusoidal; otherwise this is the non-active power, distortion included.
 * Example: 6928.203, 5888.973 → 3649.66.
 * Source: IEC 60050-131.
 */
export function reactivePower(apparentPower: number, activePower: number): number {
  return Math.sqrt(apparentPower * apparentPower - activePower * activePower)
}

/**
 * Power factor:  P/S
 *
 * @param activePower P [W].
 * @param apparentPower S [VA].
 * @returns Power factor [–]. NaN without load (S = 0).
 *
 * Limits: none; a value above 1 is shown as it is and means a faulty reading.
 * Example: 5888.973, 6928.203 → 0.85.
 * Source: IEC 60050-131.
 */
export function powerFactor(activePower: number, apparentPower: number): number {
  return apparentPower === 0 ? Number.NaN : activePower / apparentPower
}

/**
 * Frequency of a synchronous generator:  f = p·ω/(2π)
 *
 * @param speed ω [rad/s].
 * @param polePairs Pole PAIRS p [–], half the number of poles.
 * @returns f [Hz].
 *
 * Limits: synchronous and permanent-magnet machines.
 * Example: 1500 min⁻¹, 2 → 50.
 * Source: IEC 60034-1; n = 60f/p.
 */
export function generatorFrequency(speed: number, polePairs: number): number {
  return (speed * polePairs) / (2 * Math.PI)
}

/**
 * Synchronous speed:  ω = 2πf/p
 *
 * @param frequency f [Hz].
 * @param polePairs Pole PAIRS p [–].
 * @returns ω [rad/s].
 *
 * Limits: none.
 * Example: 50, 3 → 104.72 (1000 min⁻¹).
 * Source: IEC 60034-1; n = 60f/p.
 */
export function synchronousSpeed(frequency: number, polePairs: number): number {
  return (2 * Math.PI * frequency) / polePairs
}

/**
 * Slip of an induction machine:  s = (n_s − n)/n_s
 *
 * @param synchronous Synchronous speed n_s [rad/s].
 * @param speed Shaft speed n [rad/s].
 * @returns s [–], negative when generating. NaN without a grid frequency (n_s = 0).
 *
 * Limits: none.
 * Example: 1000, 1012 min⁻¹ → −0.012.
 * Source: IEC 60050-411 definition of slip.
 */
export function slip(synchronous: number, speed: number): number {
  return synchronous === 0 ? Number.NaN : (synchronous - speed) / synchronous
}

/**
 * Largest departure of three phases from their mean:  max|xₖ − x̄|/x̄
 *
 * @param first RMS value of the first phase [V or A].
 * @param second RMS value of the second phase.
 * @param third RMS value of the third phase.
 * @returns Unbalance [–]. NaN when the mean is 0.
 *
 * Limits: magnitudes only; voltage unbalance of a three-wire grid: `negativeSequenceRatio`.
 * Example: 10, 10, 13 → 0.1818.
 * Source: NEMA MG-1 definition (from memory).
 */
export function phaseUnbalance(first: number, second: number, third: number): number {
  const mean = (first + second + third) / 3
  const worst = Math.max(Math.abs(first - mean), Math.abs(second - mean), Math.abs(third - mean))
  return mean === 0 ? Number.NaN : worst / mean
}

/**
 * Negative over positive sequence from three line voltages:  u₂ = √((1 − √(3 − 6β))/(1 + √(3 − 6β)))
 *
 * @param voltage12 Line-to-line voltage U₁₂ [V].
 * @param voltage23 U₂₃ [V].
 * @param voltage31 U₃₁ [V].
 * @returns u₂ [–], β = (U₁₂⁴ + U₂₃⁴ + U₃₁⁴)/(U₁₂² + U₂₃² + U₃₁²)². NaN when the three cannot form a triangle.
 *
 * Limits: fundamental line-to-line voltages. The usual limit is 2 % (EN 50160, from memory).
 * Example: 400, 400, 380 → 0.0336.
 * Source: IEC 61000-4-30, supply voltage unbalance (formula from memory).
 */
export function negativeSequenceRatio(voltage12: number, voltage23: number, voltage31: number): number {
  const squares = [voltage12 ** 2, voltage23 ** 2, voltage31 ** 2] as const
  const sum = squares[0] + squares[1] + squares[2]
  const beta = (squares[0] ** 2 + squares[1] ** 2 + squares[2] ** 2) / (sum * sum)
  const root = Math.sqrt(3 - 6 * beta)
  // Three equal voltages give β = ⅓ up to rounding; the last bit must not turn 0 into NaN.
  return Math.sqrt(Math.abs(root - 1) < 1e-12 ? 0 : (1 - root) / (1 + root))
}
