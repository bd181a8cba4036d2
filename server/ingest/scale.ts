import { classifyLoopCurrent, loopToValue } from '../physics/loopCurrent.ts'
import type { Instrument } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'

/** A number of the payload, brought into the instrument's unit. */
export interface Scaled {
  value: number
  quality: Quality
  /** Why not good. */
  reason?: string
}

/** An instrument that rests at the end of its range shows its noise on both sides of it. */
export const SLACK_SHARE = 0.005

/** Share of a span by which a value may lie beyond it and still be uncertain only. */
export const NEAR_SHARE = 0.05

/**
 * Brings the raw number of a payload into the instrument's unit, by the `scale` of its plant file.
 *
 * loop:    y = low + (I − 4)/16·(high − low), I in mA; bad at ≤ 3.6 and ≥ 21 mA, uncertain between those and
 *          3.8 … 20.5 mA (NAMUR NE 43).
 * linear:  y = factor·x + offset.
 * points:  straight lines between the points. Beyond the ends the last line is followed: good up to 0.5 %, uncertain up to 5 % of the
 *          points' span, bad further on. The value is never bent to the end point.
 */
export function scaleValue({ scale, range }: Instrument, raw: number): Scaled {
  if (!scale) return { value: raw, quality: 'good' }
  switch (scale.kind) {
    case 'linear':
      return { value: raw * scale.factor + scale.offset, quality: 'good' }
    case 'loop':
      return fromLoop(raw, range ?? [0, 1])
    case 'points':
      return fromPoints(raw, scale.from, scale.to)
  }
}

function fromLoop(milliampere: number, [low, high]: readonly [number, number]): Scaled {
  const value = loopToValue(milliampere / 1000, low, high)
  const current = `${Number(milliampere.toFixed(3))} mA`
  switch (classifyLoopCurrent(milliampere / 1000)) {
    case 'measuring':
      return { value, quality: 'good' }
    case 'undefinedLow':
    case 'undefinedHigh':
      return { value, quality: 'uncertain', reason: `loop current ${current} is outside 3.8 … 20.5 mA` }
    default:
      return { value, quality: 'bad', reason: `loop current ${current} means a broken line or device` }
  }
}

function fromPoints(raw: number, from: readonly number[], to: readonly number[]): Scaled {
  const last = from.length - 1
  const next = from.findIndex((x) => x >= raw)
  const right = Math.min(Math.max(next === -1 ? last : next, 1), last)
  const [x0, x1] = [from[right - 1]!, from[right]!]
  const [y0, y1] = [to[right - 1]!, to[right]!]
  const value = y0 + ((y1 - y0) * (raw - x0)) / (x1 - x0)
  const beyond = Math.max(from[0]! - raw, raw - from[last]!)
  if (beyond <= SLACK_SHARE * (from[last]! - from[0]!)) return { value, quality: 'good' }
  return {
    value,
    quality: beyond <= NEAR_SHARE * (from[last]! - from[0]!) ? 'uncertain' : 'bad',
    reason: `raw value ${raw} is beyond the points ${from[0]} … ${from[last]} of its scale`,
  }
}
