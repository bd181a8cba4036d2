import type { BestPoint } from '../../wire/findings.ts'

/** Highest place of a curve on a grid of even steps. */
export interface Top {
  x: number
  y: number
  isAtEnd: boolean
}

/** The best of the grid, then a parabola through it and its neighbours. */
export function topOf(heights: ArrayLike<number>, grid: readonly number[]): Top {
  let top = 0
  for (let i = 1; i < heights.length; i++) if (heights[i]! > heights[top]!) top = i
  const isAtEnd = top === 0 || top === heights.length - 1
  if (isAtEnd) return { x: grid[top]!, y: heights[top]!, isAtEnd }
  const [before, here, after] = [heights[top - 1]!, heights[top]!, heights[top + 1]!]
  const bend = before - 2 * here + after
  const shift = bend === 0 ? 0 : (before - after) / (2 * bend)
  return { x: grid[top]! + shift * (grid[1]! - grid[0]!), y: here - ((before - after) * shift) / 4, isAtEnd }
}

/** Settings closer than this share of the range are one. */
const ONE_SETTING = 0.05

/** Means of the abscissas of each setting, ascending. */
export function settingsOf(x: readonly number[]): number[] {
  const sorted = [...x].sort((a, b) => a - b)
  const apart = ONE_SETTING * (sorted.at(-1)! - sorted[0]!)
  const groups: number[][] = []
  for (const one of sorted) {
    const group = groups.at(-1)
    if (group && one - group.at(-1)! <= apart) group.push(one)
    else groups.push([one])
  }
  return groups.map((group) => group.reduce((sum, one) => sum + one, 0) / group.length)
}

/** The best of settings between which nothing can be set. */
export function topSetting(heights: ArrayLike<number>, settings: readonly number[]): Top {
  let top = 0
  for (let i = 1; i < heights.length; i++) if (heights[i]! > heights[top]!) top = i
  return { x: settings[top]!, y: heights[top]!, isAtEnd: false }
}

/** An interval that takes more of the range than this says more than a place does. */
const WIDE = 0.25

type Found = Top & Pick<BestPoint, 'yLow' | 'yHigh' | 'parts'>

/**
 * Beyond the points a curve says nothing: the interval ends there at the latest. Where more points would tell is said.
 *
 * @param found `parts` as far as they reach, the lower one first.
 */
export function bestPoint(
  { parts: reached, ...found }: Found,
  [first, last]: readonly [number, number],
): BestPoint {
  const near = (last - first) * 1e-6
  const [from, to] = [reached[0]![0], reached.at(-1)![1]]
  const [isOpenBelow, isOpenAbove] = [from <= first + near, to >= last - near]
  const parts = reached.map(([low, high]): [number, number] => [Math.max(first, low), Math.min(last, high)])
  const [xLow, xHigh] = [parts[0]![0], parts.at(-1)![1]]
  const isWide = parts.reduce((sum, [low, high]) => sum + high - low, 0) > WIDE * (last - first)
  const add: BestPoint['add'] = [
    ...(isOpenBelow ? [{ from: null, to: first }] : []),
    ...(isWide || parts.length > 1 ? parts.map(([low, high]) => ({ from: low, to: high })) : []),
    ...(isOpenAbove ? [{ from: last, to: null }] : []),
  ]
  return { ...found, xLow, xHigh, parts, isOpen: isOpenBelow || isOpenAbove, isWide, add }
}
