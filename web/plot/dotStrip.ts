/** Where dots lie on a strip from 0 to 1, stacked so that none hides another. */
export interface StripDots {
  /** Shares of the width, with how many lie below. */
  dots: { share: number; level: number }[]
  low: number
  high: number
}

const ROOM = 0.08

/**
 * @param values What the dots stand for, ascending.
 * @param marks Further values that have to be on the strip, e.g. ends of an interval.
 * @param dot Width of a dot as a share of the strip.
 */
export function stripDots(values: readonly number[], marks: readonly number[], dot: number): StripDots {
  const all = [...values, ...marks]
  const least = Math.min(...all)
  const most = Math.max(...all)
  const span = most - least || Math.abs(most) || 1
  const low = least - ROOM * span
  const high = most + ROOM * span
  const ends: number[] = []
  const dots = values.map((value) => {
    const share = (value - low) / (high - low)
    const free = ends.findIndex((end) => share - end >= dot)
    const level = free < 0 ? ends.length : free
    ends[level] = share
    return { share, level }
  })
  return { dots, low, high }
}
