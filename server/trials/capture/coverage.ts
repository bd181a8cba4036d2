import type { BestPoint } from '../../wire/findings.ts'
import type { Coverage } from '../../wire/point.ts'
import type { PointTrialView } from '../../wire/trial.ts'

/** Points wanted near the best one, and how near [share of it]. */
const NEAR_BEST = 3
const NEAR = 0.1
/** Points wanted in all, so that their scatter says something. */
const ENOUGH = 8

/**
 * Which parts of the range have points, and which point would help most next: first the suggested value farthest from
 * every point, then where it would tell the best point, then its neighbourhood, then a repetition where there is only one.
 *
 * Source: common practice: 8 to 12 points a curve, three of them near the best, some repeated.
 */
export function coverageOf(
  { suggested, isStepped }: Pick<PointTrialView['vary'], 'suggested' | 'isStepped'>,
  taken: readonly number[],
  best: BestPoint | null,
): Coverage {
  const reach = halfGap(suggested)
  const distance = (value: number) => Math.min(...taken.map((one) => Math.abs(one - value)))
  const views = suggested.map((value) => ({ value, isCovered: distance(value) <= reach }))
  const open = views.filter((view) => !view.isCovered).map((view) => view.value)
  if (open.length > 0) {
    const next =
      taken.length === 0 ? open[0]! : open.reduce((far, one) => (distance(one) > distance(far) ? one : far))
    return { suggested: views, next, why: taken.length === 0 ? 'the range begins here' : 'the widest gap' }
  }
  const told = best === null || isStepped ? undefined : widestHole(best, suggested, taken)
  if (told !== undefined)
    return { suggested: views, next: told, why: 'the points cannot tell yet where the best one lies' }
  const wanted = best && (isStepped ? nearest(suggested, best.x) : best.x)
  const within = isStepped ? reach : NEAR * (wanted ?? 0)
  const near = taken.filter((one) => Math.abs(one - (wanted ?? one)) <= within).length
  if (wanted !== null && near < NEAR_BEST)
    return { suggested: views, next: wanted, why: `${near} of ${NEAR_BEST} points near the best one` }
  if (taken.length < ENOUGH && taken.length > 0)
    return {
      suggested: views,
      next: loneliest(taken),
      why: 'a repetition, which shows how well points agree',
    }
  return { suggested: views, next: null, why: taken.length === 0 ? '' : 'the range is covered' }
}

/** Holes smaller than this share of the range are not worth another point. */
const HOLE = 0.06

/** Middle of the widest hole where more points would tell the best point. */
function widestHole(
  { add }: BestPoint,
  suggested: readonly number[],
  taken: readonly number[],
): number | undefined {
  const least = HOLE * (Math.max(...suggested) - Math.min(...suggested))
  const holes = add.flatMap(({ from, to }) => {
    if (from === null || to === null) return []
    const inside = taken.filter((one) => one > from && one < to)
    const ends = [from, ...inside.sort((a, b) => a - b), to]
    return ends.slice(1).map((end, i) => ({ middle: (end + ends[i]!) / 2, width: end - ends[i]! }))
  })
  const widest = holes.reduce((wide, one) => (one.width > wide.width ? one : wide), { middle: 0, width: 0 })
  return widest.width > least ? widest.middle : undefined
}

function nearest(values: readonly number[], wanted: number): number {
  return values.reduce((near, one) => (Math.abs(one - wanted) < Math.abs(near - wanted) ? one : near))
}

function halfGap(suggested: readonly number[]): number {
  const gaps = suggested.slice(1).map((value, i) => value - suggested[i]!)
  return gaps.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...gaps) / 2
}

/** The point farthest from its neighbours. */
function loneliest(taken: readonly number[]): number {
  const distance = (i: number) =>
    Math.min(...taken.map((one, k) => (k === i ? Number.POSITIVE_INFINITY : Math.abs(one - taken[i]!))))
  return taken.reduce(
    (far, value, i) => (distance(i) > distance(taken.indexOf(far)) ? value : far),
    taken[0]!,
  )
}
