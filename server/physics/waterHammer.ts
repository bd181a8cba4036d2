/**
 * Pressure rise when flow in a pipe is stopped. First-order bounds for one uniform pipe; a plant's own
 * surge study comes first, and monitoring does not protect a pipe.
 */

/**
 * Bound on the pressure rise of any closure: Joukowsky ρaΔv up to the critical time 2L/a, Michaud 2ρLΔv/T beyond it.
 *
 * @param density ρ [kg/m³].
 * @param wave Wave speed a [m/s].
 * @param length Pipe length L [m].
 * @param velocityChange Δv [m/s].
 * @param closingTime T [s]; 0 is an instant stop.
 * @returns Δp [Pa], continuous at T = 2L/a. NaN for a negative time.
 *
 * Limits: velocity falling evenly with time; uneven closing laws can exceed Michaud's value.
 * Example: 1000, 1480, 500, 2.263537, 0.5 → 3.350035e6, since 0.5 s < 0.676 s.
 * Source: Joukowsky 1898; Michaud 1878 (both from memory).
 */
export function closurePressure(
  density: number,
  wave: number,
  length: number,
  velocityChange: number,
  closingTime: number,
): number {
  if (closingTime < 0) return Number.NaN
  // 2L/T falls below a exactly where T passes the critical time 2L/a: the smaller of the two always governs.
  return density * velocityChange * Math.min(wave, (2 * length) / closingTime)
}

/**
 * Water starting time:  T_w = Lv/(gH)
 *
 * @param length Pipe length L [m].
 * @param velocity Rated velocity v [m/s].
 * @param netHead H [m].
 * @param gravity g [m/s²].
 * @returns T_w [s]: how long the head needs to bring the column to rated speed.
 *
 * Limits: rigid column, one uniform pipe. A governor wants T_m well above 2T_w.
 * Example: 310, 1.434, 48, 9.81 → 0.944.
 * Source: IEC 60308 definition (from memory).
 */
export function waterStartTime(length: number, velocity: number, netHead: number, gravity: number): number {
  return (length * velocity) / (gravity * netHead)
}
