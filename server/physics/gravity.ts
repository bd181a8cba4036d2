/**
 * Local gravity. It differs by 0.5 % between equator and pole: state which value a result was computed with.
 */

/**
 * Gravity as the field acceptance code gives it:  g = 9.7803(1 + 0.0053 sin²φ) − 3·10⁻⁶ z
 *
 * @param latitude Latitude φ [rad], north or south.
 * @param altitude Height above sea level z [m].
 * @returns g [m/s²].
 *
 * Limits: to 4000 m. Its height term is rounder than free air: 0.002 % high at 2000 m.
 * Example: 45° and 500 m → 9.804718.
 * Source: IEC 60041:1991 (formula from memory).
 */
export function gravityIec60041(latitude: number, altitude: number): number {
  return 9.7803 * (1 + 0.0053 * Math.sin(latitude) ** 2) - 3e-6 * altitude
}
