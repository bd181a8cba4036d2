/** Energy and how well a plant was used. */

/**
 * Integral over uneven steps by trapezoids:  Σ ½(yᵢ₋₁ + yᵢ)(tᵢ − tᵢ₋₁)
 *
 * @param times t [s], rising.
 * @param values y, e.g. power [W] for energy [J] or discharge [m³/s] for volume [m³].
 * @returns The integral; NaN when any value is missing: decide about gaps before calling.
 * @throws {RangeError} when lengths differ or times fall: programming errors.
 *
 * Limits: values that run straight between samples.
 * Example: t 0, 60 and y 0, 1000 → 30000.
 * Source: trapezoidal rule.
 */
export function integrateTrapezoid(times: ArrayLike<number>, values: ArrayLike<number>): number {
  if (times.length !== values.length) {
    throw new RangeError(`integrateTrapezoid: ${times.length} times but ${values.length} values`)
  }
  let sum = 0
  for (let i = 1; i < times.length; i++) {
    const step = times[i]! - times[i - 1]!
    if (step < 0) throw new RangeError(`integrateTrapezoid: time falls at index ${i}`)
    sum += 0.5 * (values[i - 1]! + values[i]!) * step
  }
  return sum
}

/**
 * Load factor:  mean power/peak power of the same period
 *
 * @param meanPower [W].
 * @param peakPower [W].
 * @returns Load factor [–], a ratio, not the mean in megawatts. NaN without a peak.
 *
 * Limits: 0–1 by definition; more means inconsistent inputs.
 * Example: 59.1667, 100 → 0.591667.
 * Source: TBC 2441 (power-plant engineering text) Ex. 1.4, recomputed.
 */
export function loadFactor(meanPower: number, peakPower: number): number {
  return peakPower === 0 ? Number.NaN : meanPower / peakPower
}

/**
 * Capacity factor:  E/(P_rated·t)
 *
 * @param energy E [J].
 * @param ratedPower P_rated [W].
 * @param seconds Length of the period t [s], outages included.
 * @returns Capacity factor [–]. NaN for an empty period.
 *
 * Limits: none.
 * Example: 1420 MWh, 125 MW, one day → 0.473333.
 * Source: TBC 2441 (power-plant engineering text) Ex. 1.5.
 */
export function capacityFactor(energy: number, ratedPower: number, seconds: number): number {
  const possible = ratedPower * seconds
  return possible === 0 ? Number.NaN : energy / possible
}

/**
 * Utilisation factor:  peak power/rated power
 *
 * @param peakPower [W].
 * @param ratedPower [W].
 * @returns Utilisation [–].
 *
 * Limits: none.
 * Example: 100, 125 → 0.8.
 * Source: TBC 2441 (power-plant engineering text) Ex. 1.5.
 */
export function utilisationFactor(peakPower: number, ratedPower: number): number {
  return peakPower / ratedPower
}

/**
 * Energy per volume of water:  E/V = P/Q
 *
 * @param power P [W].
 * @param discharge Q [m³/s].
 * @returns Specific energy [J/m³]; over 3.6e6 for kWh/m³. NaN without flow.
 *
 * Limits: steady operation.
 * Example: 90e3, 0.6324 → 142315 (0.0395 kWh/m³).
 * Source: definition.
 */
export function energyPerVolume(power: number, discharge: number): number {
  return discharge === 0 ? Number.NaN : power / discharge
}
