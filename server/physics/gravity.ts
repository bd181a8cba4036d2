/**
 * Local gravity. It differs by 0.5 % between equator and pole: state which value a result was computed with.
 */

const EQUATORIAL_RADIUS = 6378137
const FLATTENING = 1 / 298.257223563
/** m = ω²a²b/GM of the WGS84 ellipsoid [–]. */
const CENTRIFUGAL_RATIO = 0.00344978650684

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

/**
 * Normal gravity of the WGS84 ellipsoid (Somigliana), carried to height with the second-order free-air term.
 *
 * @param latitude Geodetic latitude φ [rad].
 * @param altitude Height above the ellipsoid h [m]; height above sea level differs by up to 100 m (3e-4 m/s²).
 * @returns g [m/s²].
 *
 * Limits: to 10 km. The true local value differs by up to 0.0005 m/s² near heavy or light ground.
 * Example: 45° and 0 m → 9.806197769.
 * Source: NGA.STND.0036 (WGS84), formula and constants from memory.
 */
export function gravityWgs84(latitude: number, altitude: number): number {
  const s = Math.sin(latitude) ** 2
  const atSurface = (9.7803253359 * (1 + 0.00193185265241 * s)) / Math.sqrt(1 - 0.00669437999013 * s)
  const h = altitude / EQUATORIAL_RADIUS
  return atSurface * (1 - 2 * (1 + FLATTENING + CENTRIFUGAL_RATIO - 2 * FLATTENING * s) * h + 3 * h * h)
}
