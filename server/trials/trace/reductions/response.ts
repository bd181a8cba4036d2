/** Measures of a response to a step, after the terms of control technology. */
export interface Response {
  /** Farthest from the initial value after the step, signed, and when [s]. */
  peak: number
  peakAt: number
  /** Farthest beyond the final value, as a share of the step from initial to final; null where there is no step. */
  overshoot: number | null
  /** From the step until it stays within the band [s]; null where it does not within the trace. */
  settling: number | null
}

export interface ResponseOptions {
  initial: number
  final: number
  /** Half-width of the band round the final value, in the unit of the value. */
  band: number
}

/**
 * Settling time: from the step until the value enters the band round its final value and leaves it no more; found on
 * straight lines between readings. Overshoot: largest deviation beyond the final value over the distance from initial
 * to final. Peak deviation: farthest from the initial value.
 *
 * @param at Times from the step [s], none before it, ascending, and `value`, same length.
 * @throws {RangeError} when the columns differ in length: a programming error.
 *
 * Example: second order, damping 0.5, natural frequency 1 rad/s, unit step: overshoot 0.163, settling into ±2 % 8.08 s.
 * Source: IEC 60050-351 (International Electrotechnical Vocabulary, Control technology), "settling time" and
 * "overshoot"; from memory.
 */
export function measureResponse(
  at: readonly number[],
  value: readonly number[],
  { initial, final, band }: ResponseOptions,
): Response {
  if (at.length !== value.length)
    throw new RangeError(`measureResponse: ${at.length} times, ${value.length} values`)
  const place = value.reduce(
    (far, one, i) => (Math.abs(one - initial) > Math.abs(value[far]! - initial) ? i : far),
    0,
  )
  const size = final - initial
  const beyond = value.map((one) => (one - final) * Math.sign(size))
  return {
    peak: value.length === 0 ? 0 : value[place]! - initial,
    peakAt: at[place] ?? 0,
    overshoot: size === 0 ? null : Math.max(0, ...beyond) / Math.abs(size),
    settling: settlingOf(at, value, { final, band }),
  }
}

function settlingOf(
  at: readonly number[],
  value: readonly number[],
  { final, band }: Pick<ResponseOptions, 'final' | 'band'>,
): number | null {
  const last = value.findLastIndex((one) => Math.abs(one - final) > band)
  if (last < 0) return 0
  if (last === value.length - 1) return null
  const [outside, inside] = [Math.abs(value[last]! - final), Math.abs(value[last + 1]! - final)]
  const isSameSide = (value[last]! - final) * (value[last + 1]! - final) >= 0
  const share = (outside - band) / (isSameSide ? outside - inside : outside + inside)
  return at[last]! + share * (at[last + 1]! - at[last]!)
}
