import type { Instrument } from '../../server/plant/plant.ts'

/** A current transmitter saturates outside of this [mA] (common practice; NAMUR NE 43, from memory). */
const LOOP_LIMITS = [3.8, 20.5] as const

/** Number in the payload for a value in the instrument's unit: the way back through the plant file's `scale`. */
export function scaleBack({ scale, range }: Instrument, value: number): number {
  if (scale === undefined) return value
  if (scale.kind === 'loop') {
    const [low, high] = range!
    const current = 4 + (16 * (value - low)) / (high - low)
    return Math.min(LOOP_LIMITS[1], Math.max(LOOP_LIMITS[0], current))
  }
  if (scale.kind === 'linear') return (value - scale.offset) / scale.factor
  return backThroughPoints(scale, value)
}

/** Straight lines between the points, going on straight beyond the ends. */
function backThroughPoints({ from, to }: { from: number[]; to: number[] }, value: number): number {
  let i = 1
  while (i < to.length - 1 && value > to[i]!) i++
  const share = (value - to[i - 1]!) / (to[i]! - to[i - 1]!)
  return from[i - 1]! + share * (from[i]! - from[i - 1]!)
}
