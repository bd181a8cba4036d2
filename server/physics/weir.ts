/**
 * Discharge over weirs. `head` is the upstream level above the crest, read 3–4 heads upstream.
 * Every function: NaN for a negative head (no formula holds below the crest), 0 at exactly 0.
 */
import { interpolate } from './interpolate.ts'

/** Coefficients over crest width / channel width; kb [m]; its 0.5 row is read off the curve (from memory). */
const WIDTH_RATIO = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1]
const ALPHA = [0.587, 0.588, 0.589, 0.59, 0.591, 0.592, 0.593, 0.595, 0.597, 0.599, 0.602]
const ALPHA_SLOPE = [-0.0023, -0.0021, -0.0018, 0.002, 0.0058, 0.011, 0.018, 0.03, 0.045, 0.064, 0.075]
const KB_RATIO = [0, 0.2, 0.4, 0.5, 0.6, 0.8, 1]
const KB = [0.0024, 0.0024, 0.0027, 0.003, 0.0036, 0.0042, -0.0009]

const FOOT = 0.3048
const DEGREE = Math.PI / 180

/**
 * Sharp-crested rectangular weir, contracted or full width:  Q = ⅔·Ce·√(2g)·(b + kb)(h + 1 mm)^1.5, Ce = α + α'h/p
 *
 * @param head Head over the crest h [m].
 * @param crestHeight Crest above the channel floor p [m].
 * @param crestWidth Width of the opening b [m].
 * @param channelWidth Width of the approach channel B [m]; equal to b for a full-width weir.
 * @param gravity g [m/s²].
 * @returns Q [m³/s]. NaN also when b > B.
 *
 * Limits: h ≥ 0.03 m, p ≥ 0.10 m, b ≥ 0.15 m, h/p ≤ 2.5, nappe free and aired. The head adjustment is 1 mm,
 * not 0.1 mm as one public library has it. Between tabulated b/B the coefficients are interpolated linearly.
 * Example: 0.12, 0.30, 0.60, 0.60, 9.80665 → 0.04705205.
 * Source: Kindsvater & Carter 1957; ISO 1438; Bos 1989 (coefficients from memory, checked against US EPA table 6-2).
 */
export function rectangularWeir(
  head: number,
  crestHeight: number,
  crestWidth: number,
  channelWidth: number,
  gravity: number,
): number {
  const ratio = crestWidth / channelWidth
  const alpha = interpolate({ x: WIDTH_RATIO, y: ALPHA }, ratio)
  const slope = interpolate({ x: WIDTH_RATIO, y: ALPHA_SLOPE }, ratio)
  const kb = interpolate({ x: KB_RATIO, y: KB }, ratio)
  const coefficient = alpha + (slope * head) / crestHeight
  return simpleWeir(coefficient, adjusted(head, 0.001), crestWidth + kb, gravity)
}

/**
 * Rectangular weir with a coefficient of your own:  Q = ⅔·Cd·√(2g)·b·h^1.5
 *
 * @param coefficient Cd [–], about 0.6 for a sharp crest.
 * @param head Head over the crest h [m].
 * @param crestWidth Width b [m].
 * @param gravity g [m/s²].
 * @returns Q [m³/s].
 *
 * Limits: those of the coefficient.
 * Example: 0.6, 0.125, 0.3, 9.81 → 0.02349069.
 * Source: Poleni's formula, any hydraulics text.
 */
export function simpleWeir(coefficient: number, head: number, crestWidth: number, gravity: number): number {
  return (2 / 3) * coefficient * Math.sqrt(2 * gravity) * crestWidth * head ** 1.5
}

/**
 * Broad-crested weir or spillway:  Q = C·b·h^1.5
 *
 * @param coefficient C [m^½/s]: 1.70 for critical flow over a long crest, 1.7–1.85 in practice.
 * @param head Head over the crest h [m].
 * @param crestWidth Width b [m].
 * @returns Q [m³/s].
 *
 * Limits: tailwater below ⅔ of the head; approach velocity ignored.
 * Example: 1.7, 0.2, 3 → 0.45616.
 * Source: critical-flow theory, C = (⅔)^1.5·√g = 1.705; common practice for the range.
 */
export function broadCrestedWeir(coefficient: number, head: number, crestWidth: number): number {
  return coefficient * crestWidth * head ** 1.5
}

/**
 * V-notch, fully contracted:  Q = (8/15)·Ce·√(2g)·tan(θ/2)·(h + kh)^2.5, Ce and kh fitted over θ
 *
 * @param head Head above the notch's vertex h [m].
 * @param notchAngle Angle between the edges θ [rad].
 * @param gravity g [m/s²].
 * @returns Q [m³/s]. NaN for an angle outside 0–180°.
 *
 * Limits: θ from 20° to 100°, 0.05–0.38 m of head, h/p ≤ 0.4, h/B ≤ 0.2, p ≥ 0.45 m, B ≥ 0.9 m. At 90° it exceeds
 * 0.578·(h + 0.85 mm)^2.5 of ISO 1438 by 0.1 % at 0.06 m and 0.03 % at 0.2 m.
 * Example: 0.2, 45° in rad, 9.80665 → 0.01034534.
 * Source: Kulin & Compton 1975 fit to Kindsvater & Shen (coefficients from memory; 22.5° and 30° seen in print).
 */
export function vNotch(head: number, notchAngle: number, gravity: number): number {
  const degrees = notchAngle / DEGREE
  if (degrees <= 0 || degrees >= 180) return Number.NaN
  const coefficient = 0.607165052 + degrees * (-8.74466963e-4 + 6.10393334e-6 * degrees)
  const khFeet =
    0.0144902648 + degrees * (-3.3955535e-4 + degrees * (3.29819003e-6 - 1.06215442e-8 * degrees))
  return vNotchFlow(coefficient, adjusted(head, khFeet * FOOT), Math.tan(notchAngle / 2), gravity)
}

function vNotchFlow(coefficient: number, head: number, tangent: number, gravity: number): number {
  return (8 / 15) * coefficient * Math.sqrt(2 * gravity) * tangent * head ** 2.5
}

/** The effective head. The adjustment stands for viscosity and surface tension of a running nappe only. */
function adjusted(head: number, adjustment: number): number {
  if (head < 0) return Number.NaN
  return head === 0 ? 0 : head + adjustment
}
