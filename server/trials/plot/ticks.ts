/** One axis: its ends and the round values that are written beside it. */
export interface Ticks {
  low: number
  high: number
  values: number[]
  /** Decimals that tell the values apart. */
  decimals: number
}

const STEPS = [1, 2, 2.5, 5, 10]

/**
 * Round values (1, 2, 2.5 or 5 times a power of ten) that cover the range, and ends that lie on such values.
 *
 * @param most At most so many values.
 * @throws {RangeError} when the ends are not finite: the caller knows its points.
 *
 * Example: 0.17 … 3.9 with 8 → 0, 0.5, … 4.
 */
export function roundTicks(low: number, high: number, most: number): Ticks {
  if (!Number.isFinite(low) || !Number.isFinite(high))
    throw new RangeError(`roundTicks: ${low} … ${high} has no ends`)
  const [from, to] = high > low ? [low, high] : widened(low)
  const step = stepFor(from, to, most)
  const first = Math.floor(from / step + 1e-9)
  const last = Math.ceil(to / step - 1e-9)
  const decimals = decimalsOf(step)
  const values = Array.from({ length: last - first + 1 }, (_, i) =>
    Number(((first + i) * step).toFixed(decimals)),
  )
  return { low: values[0]!, high: values.at(-1)!, values, decimals }
}

function widened(value: number): [number, number] {
  const half = Math.abs(value) * 0.1 || 1
  return [value - half, value + half]
}

function stepFor(low: number, high: number, most: number): number {
  const power = 10 ** Math.floor(Math.log10((high - low) / most))
  for (const factor of [...STEPS, 20, 50]) {
    const step = factor * power
    if (Math.ceil(high / step - 1e-9) - Math.floor(low / step + 1e-9) < most) return step
  }
  return 100 * power
}

function decimalsOf(step: number): number {
  for (let decimals = 0; decimals < 12; decimals++)
    if (Math.abs(step - Number(step.toFixed(decimals))) < step * 1e-6) return decimals
  return 12
}
