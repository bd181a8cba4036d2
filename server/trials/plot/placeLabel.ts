import type { DrawnBest } from '../../wire/drawn.ts'
import type { Plot } from './plot.ts'
import type { Frame } from './plotFrame.ts'
import { textWidth } from './plotText.ts'

const SIZE = 13
const GAP = 12

/** Where the words of the best point stand: [left, baseline]. */
export type LabelPlace = [x: number, baseline: number]

/**
 * The place beside the best point where the words cover the fewest points and bits of curve; of equal ones the first
 * of above, below, and further out.
 */
export function placeLabel(plot: Plot, best: DrawnBest, frame: Frame): LabelPlace {
  const wide = textWidth(best.label, SIZE, true)
  const obstacles = obstaclesOf(plot, frame)
  const places = candidates(best, frame, wide).filter(
    ([, baseline]) => baseline - SIZE > frame.top && baseline + 4 < frame.bottom,
  )
  const covered = ([left, baseline]: LabelPlace) =>
    obstacles.filter(
      ([x, y]) => x > left - 4 && x < left + wide + 4 && y > baseline - SIZE - 2 && y < baseline + 6,
    ).length
  const fallback: LabelPlace = [frame.left + 6, frame.top + SIZE + 4]
  return places.reduce<{ place: LabelPlace; cost: number }>(
    (least, place) => {
      const cost = covered(place)
      return cost < least.cost ? { place, cost } : least
    },
    { place: places[0] ?? fallback, cost: places[0] ? covered(places[0]) : 0 },
  ).place
}

function candidates(best: DrawnBest, { place, left, right }: Frame, wide: number): LabelPlace[] {
  const [x, top] = place(best.x, best.yHigh)
  const [, y] = place(best.x, best.y)
  const [, bottom] = place(best.x, best.yLow)
  const above = Math.min(top, y - 8) - GAP + 4
  const below = Math.max(bottom, y + 8) + GAP + SIZE - 4
  const inside = (at: number) => Math.min(Math.max(at, left + 6), right - wide - 6)
  const across = [x - wide / 2, x - wide - 14, x + 14].map(inside)
  return [0, 22, 44, 70].flatMap((further) =>
    [above - further, below + further].flatMap((baseline) => across.map((at): LabelPlace => [at, baseline])),
  )
}

function obstaclesOf({ series, theory }: Plot, { place }: Frame): [number, number][] {
  return [
    ...series.flatMap(({ points }) =>
      points.flatMap(({ x, y, uy }) => [-1, -0.5, 0, 0.5, 1].map((share) => place(x, y + share * uy))),
    ),
    ...series.flatMap(({ curve }) => curve?.x.map((x, i) => place(x, curve.y[i]!)) ?? []),
    ...(theory?.lines.flatMap((line) => line.x.map((x, i) => place(x, line.y[i]!))) ?? []),
  ]
}
