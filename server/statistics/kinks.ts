/** Curves whose slope jumps about their top, beside those of `smoothCurve.ts`; lengths and places in half the range of the points. */

/** Where the slope jumps, and the variance of half of the jump against that of the scatter. */
export interface Kink {
  at: number
  size: number
}

/** Chance of a kink before the points are looked at. */
export const KINKED = 0.25

const PLACES = 21
/** How far from the top of the smooth curve. */
const REACH = 0.25
const SIZES = [3e2, 1e4]
const LENGTHS = [1.2]
const RATIOS = [1, 100]

/**
 * Kinks that are thought of, each with the stiffness of what the curve does besides.
 *
 * @param top Place of the top, −1 … 1.
 *
 * Limits: one kink, not farther from the smooth top than a quarter of half the range.
 * Source: a linear spline with one knot of unknown place, with a normal weight of its size (common practice, no source).
 */
export function kinksAbout(top: number): { length: number; ratio: number; kink: Kink }[] {
  const places = Array.from({ length: PLACES }, (_, i) => top + REACH * ((2 * i) / (PLACES - 1) - 1))
  return places
    .filter((at) => Math.abs(at) < 1)
    .flatMap((at) =>
      SIZES.flatMap((size) =>
        LENGTHS.flatMap((length) => RATIOS.map((ratio) => ({ length, ratio, kink: { at, size } }))),
      ),
    )
}
