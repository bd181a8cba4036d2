/** Measures of a response to a step, after the terms of control technology. */
export interface Response {
  /** Before the step, and at the end. */
  initial: number
  final: number
  /** Farthest from the initial value after the step, signed, and when [s]. */
  peak: number
  peakAt: number
  /** Farthest beyond the final value, as a share of the step from initial to final; null where there is no step. */
  overshoot: number | null
  /** From the step until it stays within the band [s]; null where it does not within the trace. */
  settling: number | null
  /** Longest time between two readings round the settling: it is known no better [s]. */
  resolution: number
}

export interface ResponseOptions {
  /** Time of the step, same scale as `at` [s]. */
  step: number
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
 * @param at Times [s], ascending, and `value`, same length.
 * @throws {RangeError} when the columns differ in length: a programming error.
 *
 * Example: second order, damping 0.5, natural frequency 1 rad/s, unit step: overshoot 0.163, settling into ±2 % 8.08 s.
 * Source: IEC 60050-351 (International Electrotechnical Vocabulary, Control technology), "settling time" and
 * "overshoot"; from memory.
 */
export function measureResponse(
  at: readonly number[],
  value: readonly number[],
  { step, initial, final, band }: ResponseOptions,
): Response {
  if (at.length !== value.length)
    throw new RangeError(`measureResponse: ${at.length} times, ${value.length} values`)
  const first = at.findIndex((time) => time >= step)
  const after = first < 0 ? [] : value.slice(first)
  const times = first < 0 ? [] : at.slice(first)
  const place = after.reduce(
    (far, one, i) => (Math.abs(one - initial) > Math.abs(after[far]! - initial) ? i : far),
    0,
  )
  const size = final - initial
  const beyond = after.map((one) => (one - final) * Math.sign(size))
  return {
    initial,
    final,
    peak: after.length === 0 ? 0 : after[place]! - initial,
    peakAt: after.length === 0 ? 0 : times[place]! - step,
    overshoot: size === 0 ? null : Math.max(0, ...beyond) / Math.abs(size),
    ...settlingOf(times, after, { step, final, band }),
  }
}

function settlingOf(
  at: readonly number[],
  value: readonly number[],
  { step, final, band }: Pick<ResponseOptions, 'step' | 'final' | 'band'>,
): Pick<Response, 'settling' | 'resolution'> {
  const isOut = (one: number) => Math.abs(one - final) > band
  const last = value.findLastIndex(isOut)
  if (last < 0) return { settling: 0, resolution: (at[0] ?? step) - step }
  if (last === value.length - 1) return { settling: null, resolution: 0 }
  const [outside, inside] = [Math.abs(value[last]! - final), Math.abs(value[last + 1]! - final)]
  const isSameSide = (value[last]! - final) * (value[last + 1]! - final) >= 0
  const share = (outside - band) / (isSameSide ? outside - inside : outside + inside)
  const gap = at[last + 1]! - at[last]!
  return { settling: at[last]! + share * gap - step, resolution: gap }
}
