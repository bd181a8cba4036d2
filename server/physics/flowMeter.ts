/** Other ways to a discharge: pulses, a bucket, a current meter. */

/**
 * Discharge from a pulse meter:  Q = f/K
 *
 * @param frequency Pulse frequency f [1/s].
 * @param pulsesPerVolume Meter factor K [1/m³]; pulses per litre times 1000.
 * @returns Q [m³/s].
 *
 * Limits: the meter's linear range.
 * Example: 45, 450e3 → 1e-4 (6 L/min).
 * Source: definition of the meter factor.
 */
export function pulseDischarge(frequency: number, pulsesPerVolume: number): number {
  return frequency / pulsesPerVolume
}

/**
 * Discharge by volume and time:  Q = V/t
 *
 * @param volume Collected V [m³].
 * @param time Collecting time t [s].
 * @returns Q [m³/s].
 *
 * Limits: hand-timed u(t) is about 0.2 s, so collect for 10 s and more.
 * Example: 0.020, 8.00 → 0.0025.
 * Source: ISO 4185 principle.
 */
export function bucketDischarge(volume: number, time: number): number {
  return volume / time
}

/** One vertical of a current-meter gauging. */
export interface Vertical {
  /** Distance from the bank [m], rising. */
  distance: number
  /** Water depth [m]. */
  depth: number
  /** Mean velocity in the vertical [m/s]. */
  velocity: number
}

/**
 * Discharge by velocity and area, mean-section method:  Q = Σ ½(d₁+d₂)·½(v₁+v₂)·Δb
 *
 * @param verticals From bank to bank, banks included with depth 0.
 * @returns Q [m³/s]; NaN when any reading is missing.
 * @throws {RangeError} for fewer than two verticals or distances that do not rise: a programming error.
 *
 * Limits: 20 verticals and no segment above 10 % of Q for a good gauging.
 * Example: depths 0/.4/.6/.3/0 at 0/.5/1/1.5/2 m with 0/.5/.7/.4/0 m/s → 0.31375.
 * Source: ISO 748, mean-section method (from memory).
 */
export function velocityAreaDischarge(verticals: readonly Vertical[]): number {
  if (verticals.length < 2) throw new RangeError('velocityAreaDischarge: needs at least two verticals')
  let sum = 0
  for (let i = 1; i < verticals.length; i++) {
    const [a, b] = [verticals[i - 1]!, verticals[i]!]
    if (b.distance <= a.distance) throw new RangeError('velocityAreaDischarge: distances must rise')
    sum += 0.25 * (a.depth + b.depth) * (a.velocity + b.velocity) * (b.distance - a.distance)
  }
  return sum
}
