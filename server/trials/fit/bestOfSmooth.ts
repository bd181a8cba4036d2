import { createRandom, type Random } from '../../statistics/bootstrap.ts'
import { quantileInterpolated } from '../../statistics/quantiles.ts'
import type { SmoothCurve } from '../../statistics/smoothCurve.ts'
import type { BestPoint } from '../../wire/findings.ts'
import { bestPoint, settingsOf, topOf, topSetting } from './bestPoint.ts'
import { column, gridOf, type Laid } from './laid.ts'

const DRAWS = 800
/** Shares of the draws left out at either end: of scatter alone, and with what the instruments are off by. */
const TAIL = 0.0125
const TAIL_ALL = 0.025
/** A place counts where it is as high as the top but for this share of the top's uncertainty, in so many of the draws. */
const AS_HIGH = 0.3
const OFTEN = 0.04
/** Tops this far apart, of the range, with none between are two. */
const APART = 0.12

/**
 * Highest place of a smooth curve within the range of the points, and how high it is there.
 *
 * Curves are drawn as likely as the points leave them; their tops are the answers. Two things make it hold where a curve is
 * not as smooth as the mix of stiffnesses likes best, found by drawing curves with knees and flat tops (bench "trials"):
 * 1¼ % instead of 2½ % are left out at either end, and a place that is as good as the top in some of the draws belongs to it.
 * Curves with a kink about the top are drawn apart, and what either sort reaches is in the interval: a mix of both trusted the kink
 * too much where a roof is rounded, smooth ones alone held the height of a kink in 38 % (20 points, 0.1 %).
 * Where nothing between the settings can be set the curve is looked at there only: between them it may rise as it likes.
 * The lower end of the height is that at the place itself: the top of a curve that wavers is never too low.
 * What the instruments are off by moves all points at once; with it 95 % are kept.
 */
export function bestOfSmooth(laid: Omit<Laid, 'best'>, curve: SmoothCurve): BestPoint {
  const { isStepped = false, seed } = laid.request
  const even = gridOf(laid.rows)
  const grid = isStepped ? settingsOf(column(laid.rows, 'x')).map((at) => ({ ...even[0]!, x: at })) : even
  const x = column(grid, 'x')
  const highest = isStepped ? topSetting : topOf
  const heights = laid.heightsAt(grid)
  const best = highest(heights, x)
  const place = nearest(x, best.x)
  const random = createRandom(seed)
  const drawnFrom = [false, true].map((mayKink) => curve.draw(x, { count: DRAWS, random, mayKink }))
  const shifts = [...laid.instruments].map(([instrument, flat]) => {
    const moved = laid.heightsAt(grid, instrument)
    return { flat, by: moved.map((height, i) => height - heights[i]!) }
  })
  const spans = drawnFrom.flatMap((drawn) => {
    const whole = shifts.length === 0 ? drawn : drawn.map((one) => withShifts(one, shifts, random))
    return [
      spanOf(drawn, { x, place, tail: TAIL, highest }),
      spanOf(whole, { x, place, tail: TAIL_ALL, highest }),
    ]
  })
  const reach = [...spans.flatMap(({ from, to }) => [from, to]), ...asHigh(drawnFrom[0]!, x, place), best.x]
  return bestPoint(
    {
      ...best,
      yLow: Math.min(...spans.map(({ low }) => low), best.y),
      yHigh: Math.max(...spans.map(({ high }) => high), best.y),
      parts: partsOf(
        spans.flatMap(({ places }) => places),
        [Math.min(...reach), Math.max(...reach)],
        x,
      ),
    },
    [x[0]!, x.at(-1)!],
  )
}

/** A curve as it would be if the instruments were off by some likely amount. */
function withShifts(
  curve: Float64Array,
  shifts: readonly { flat: number; by: readonly number[] }[],
  random: Random,
): Float64Array {
  const moved = Float64Array.from(curve)
  for (const { flat, by } of shifts) {
    const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
    const amount = flat * Math.sqrt(3) * (2 * random() - 1) + Math.sqrt(Math.max(0, 1 - flat ** 2)) * normal
    for (let i = 0; i < moved.length; i++) moved[i]! += amount * by[i]!
  }
  return moved
}

/** Ends of what is left of the tops without their tails. */
function spanOf(
  curves: readonly Float64Array[],
  { x, place, tail, highest }: { x: readonly number[]; place: number; tail: number; highest: typeof topOf },
) {
  const tops = curves.map((one) => highest(one, x))
  const places = tops.map((one) => one.x)
  const heights = tops.map((one) => one.y)
  const there = curves.map((one) => one[place]!)
  const [from, to] = [quantileInterpolated(places, tail), quantileInterpolated(places, 1 - tail)]
  return {
    places: places.filter((one) => one >= from && one <= to),
    from,
    to,
    low: Math.min(quantileInterpolated(heights, tail), quantileInterpolated(there, tail)),
    high: quantileInterpolated(heights, 1 - tail),
  }
}

/** First and last place that is as good as the top. */
function asHigh(curves: readonly Float64Array[], x: readonly number[], place: number): [number, number] {
  const there = curves.map((one) => one[place]!)
  const mean = there.reduce((sum, one) => sum + one, 0) / there.length
  const deviation = Math.sqrt(there.reduce((sum, one) => sum + (one - mean) ** 2, 0) / there.length)
  const tops = curves.map((one) => one.reduce((a, b) => Math.max(a, b)))
  const good = x.filter(
    (_, i) =>
      curves.filter((one, d) => tops[d]! - one[i]! <= AS_HIGH * deviation).length >= OFTEN * curves.length,
  )
  return [good[0] ?? x[place]!, good.at(-1) ?? x[place]!]
}

/** One part, or two where no curve has its top between them. */
function partsOf(
  places: readonly number[],
  [from, to]: readonly [number, number],
  x: readonly number[],
): BestPoint['parts'] {
  const sorted = [from, ...[...places].sort((a, b) => a - b), to]
  let widest = 0
  for (let i = 0; i + 1 < sorted.length; i++)
    if (sorted[i + 1]! - sorted[i]! > sorted[widest + 1]! - sorted[widest]!) widest = i
  const [before, after] = [sorted[widest]!, sorted[widest + 1]!]
  const isApart = after - before > APART * (x.at(-1)! - x[0]!)
  return isApart && before > from && after < to
    ? [
        [from, before],
        [after, to],
      ]
    : [[from, to]]
}

function nearest(places: readonly number[], wanted: number): number {
  return places.reduce(
    (near, one, i) => (Math.abs(one - wanted) < Math.abs(places[near]! - wanted) ? i : near),
    0,
  )
}
