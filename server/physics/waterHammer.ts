/**
 * Pressure rise when flow in a pipe is stopped. First-order bounds for one uniform pipe; a plant's own
 * surge study comes first, and monitoring does not protect a pipe.
 */

/**
 * Speed of a pressure wave in a thin-walled pipe:  a = √(K/ρ)/√(1 + KD/(Ee))
 *
 * @param bulkModulus Bulk modulus of the water K [Pa].
 * @param density ρ [kg/m³].
 * @param bore Inner diameter D [m].
 * @param wallThickness e [m].
 * @param wallModulus Elastic modulus of the wall E [Pa]: steel 200–207e9, polyethylene 0.8e9 (from memory).
 * @returns a [m/s].
 *
 * Limits: D/e > 25, air-free water, pipe free to stretch lengthwise.
 * Example: 2.1e9, 1000, 0.6, 0.012, 200e9 → 1173.4774.
 * Source: Korteweg–Joukowsky; Wylie & Streeter, Fluid Transients (from memory).
 */
export function waveSpeed(
  bulkModulus: number,
  density: number,
  bore: number,
  wallThickness: number,
  wallModulus: number,
): number {
  return Math.sqrt(bulkModulus / density / (1 + (bulkModulus * bore) / (wallModulus * wallThickness)))
}

/**
 * Pressure rise of a sudden stop:  Δp = ρaΔv
 *
 * @param density ρ [kg/m³].
 * @param wave Wave speed a [m/s].
 * @param velocityChange Velocity destroyed Δv [m/s].
 * @returns Δp [Pa].
 *
 * Limits: closure within the critical time 2L/a.
 * Example: 1000, 1173.4774, 1.5 → 1.7602161e6.
 * Source: Joukowsky 1898.
 */
export function joukowskyPressure(density: number, wave: number, velocityChange: number): number {
  return density * wave * velocityChange
}

/**
 * Head rise of a sudden stop:  ΔH = aΔv/g
 *
 * @param wave Wave speed a [m/s].
 * @param velocityChange Velocity destroyed Δv [m/s].
 * @param gravity g [m/s²].
 * @returns ΔH [m].
 *
 * Limits: closure within the critical time 2L/a.
 * Example: 290, 1.434, 9.81 → 42.4.
 * Source: Joukowsky 1898.
 */
export function joukowskyHead(wave: number, velocityChange: number, gravity: number): number {
  return (wave * velocityChange) / gravity
}

/**
 * Critical time: the wave's way to the reservoir and back,  T_c = 2L/a
 *
 * @param length Pipe length L [m].
 * @param wave Wave speed a [m/s].
 * @returns T_c [s]. A closure within it is as bad as an instant one.
 *
 * Limits: one uniform pipe.
 * Example: 1200, 1173.4774 → 2.045203.
 * Source: Wylie & Streeter, Fluid Transients (from memory).
 */
export function criticalTime(length: number, wave: number): number {
  return (2 * length) / wave
}

/**
 * Mean inertia pressure of a slow stop:  Δp = ρLΔv/T. A mean, not a bound: see `closurePressure`.
 *
 * @param density ρ [kg/m³].
 * @param length Pipe length L [m].
 * @param velocityChange Δv [m/s].
 * @param closingTime T [s].
 * @returns Δp [Pa].
 *
 * Limits: rigid water column, even deceleration, T well above 2L/a. At T < 2L/a it is wrong by any factor.
 * Example: 1000, 500, 2.263537, 0.5 → 2.263537e6 (and not valid there).
 * Source: Newton's law for the water column; Choudhary & Om Prakash, Fluid Mechanics, Ex. 7.19.
 */
export function rigidColumnPressure(
  density: number,
  length: number,
  velocityChange: number,
  closingTime: number,
): number {
  return (density * length * velocityChange) / closingTime
}

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
