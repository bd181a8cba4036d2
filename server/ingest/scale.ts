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

/** Brings the raw number of a payload into the instrument's unit, by the `scale` of its plant file. */
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

/** @param milliampere Loop current; its bands are those of NAMUR NE 43. */
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

/** Straight lines between the points; beyond the ends nothing is known, so the end's line is followed and marked bad. */
function fromPoints(raw: number, from: readonly number[], to: readonly number[]): Scaled {
  const last = from.length - 1
  const next = from.findIndex((x) => x >= raw)
  const right = Math.min(Math.max(next === -1 ? last : next, 1), last)
  const [x0, x1] = [from[right - 1]!, from[right]!]
  const [y0, y1] = [to[right - 1]!, to[right]!]
  const value = y0 + ((y1 - y0) * (raw - x0)) / (x1 - x0)
  if (raw >= from[0]! && raw <= from[last]!) return { value, quality: 'good' }
  return { value, quality: 'bad', reason: `raw value ${raw} is beyond the points of its scale` }
}
