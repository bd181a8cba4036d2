import { NORMAL_95 } from '../../statistics/normal.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { TrialResult } from '../../wire/findings.ts'
import { groupBy } from '../../wire/groupBy.ts'
import type { PointFigure, TrialPoint } from '../../wire/point.ts'
import { fails, holds, number, type PointCheckInput, type PointRule, percent, unknown } from './check.ts'

/** Neighbours closer than this share of the range count as one place. */
const ONE_PLACE = 0.05

interface Pair {
  x: PointFigure
  y: PointFigure
  point: TrialPoint
}

/** The ordinate, or another figure, falls from each place to the next; a rise counts when it is larger than both bars. */
export function falls(figure?: string): PointRule {
  return {
    judge(input) {
      const pairs = alongAbscissa(input, figure)
      if (pairs.length < 3) return unknown('It needs points at three places or more.')
      const rises = pairs.slice(1).flatMap((pair, i) => {
        const before = pairs[i]!
        const rise = pair.y.mean - before.y.mean
        const bars = Math.hypot(pair.y.typeA, before.y.typeA) * NORMAL_95
        return rise > bars
          ? [{ from: before.point.number, to: pair.point.number, rise: rise / before.y.mean }]
          : []
      })
      const worst = rises.sort((a, b) => b.rise - a.rise)[0]
      if (worst)
        return fails(
          `From point ${worst.from} to point ${worst.to} it rises by ${percent(worst.rise)}, more than scatter allows.`,
        )
      const drop = 1 - pairs.at(-1)!.y.mean / pairs[0]!.y.mean
      return drop > 0
        ? holds(`It falls at every step, by ${percent(drop)} in all.`)
        : fails('It does not fall over the range.')
    },
  }
}

/** The ordinate rises from each place to the next by more than nothing, as far as scatter can tell. */
export const rises: PointRule = {
  judge(input) {
    const pairs = alongAbscissa(input)
    if (pairs.length < 3) return unknown('It needs points at three places or more.')
    const drop = pairs.slice(1).find((pair, i) => {
      const before = pairs[i]!.y
      return before.mean - pair.y.mean > NORMAL_95 * Math.hypot(before.typeA, pair.y.typeA)
    })
    if (drop) return fails(`At point ${drop.point.number} it falls, by more than scatter allows.`)
    const ratio = pairs.at(-1)!.y.mean / pairs[0]!.y.mean
    return ratio > 1
      ? holds(`It rises at every step, to ${number(ratio)} times the first.`)
      : fails('It does not rise over the range.')
  },
}

/** Kept points by abscissa, one of each place. */
function alongAbscissa({ points, view }: PointCheckInput, figure = view.ordinate): Pair[] {
  const pairs = points
    .flatMap((point): Pair[] => {
      const [x, y] = [figureOf(point, view.abscissa), figureOf(point, figure)]
      return x && y ? [{ x, y, point }] : []
    })
    .sort((a, b) => a.x.mean - b.x.mean)
  const span = (pairs.at(-1)?.x.mean ?? 0) - (pairs[0]?.x.mean ?? 0)
  return pairs.filter((pair, i) => i === 0 || pair.x.mean - pairs[i - 1]!.x.mean > ONE_PLACE * span)
}

/** Repeated states agree, what lies between their abscissas taken off along the curve. */
export const repeatsAgree: PointRule = {
  judge({ points, view, result: whole, series }) {
    const apart = points.flatMap((point) => {
      const first = points.find((one) => one.number === point.repeatOf)
      // A point of a series lies on the curve of that series.
      const result = series.find((one) => one.points.includes(point.number))?.result ?? whole
      return first ? differenceOf(first, point, { view, result }) : []
    })
    const worst = apart.sort((a, b) => b.share / b.bars - a.share / a.bars)[0]
    if (!worst) return unknown('No state is repeated yet.')
    const words = `${percent(worst.share)} at the worst (points ${worst.first} and ${worst.second}); their bars allow ${percent(worst.bars)}.`
    return worst.share <= worst.bars
      ? holds(`Repeats agree within ${words}`)
      : fails(`Repeats differ by ${words}`)
  },
}

function differenceOf(
  first: TrialPoint,
  second: TrialPoint,
  { view, result }: Pick<PointCheckInput, 'view' | 'result'>,
) {
  const [y1, y2] = [figureOf(first, view.ordinate), figureOf(second, view.ordinate)]
  const [x1, x2] = [figureOf(first, view.abscissa), figureOf(second, view.abscissa)]
  if (!y1 || !y2 || !x1 || !x2 || y1.mean === 0) return []
  const between = heightAt(result, x2.mean) - heightAt(result, x1.mean)
  const share = Math.abs((y2.mean - y1.mean - (Number.isFinite(between) ? between : 0)) / y1.mean)
  return [
    {
      first: first.number,
      second: second.number,
      share,
      bars: Math.hypot(y1.u95, y2.u95) / Math.abs(y1.mean),
    },
  ]
}

/** Height of the curve between its places; NaN outside and without one. */
export function heightAt(result: TrialResult, x: number): number {
  if (!result.isFitted) return Number.NaN
  const { curve } = result
  const next = curve.x.findIndex((place) => place >= x)
  if (next < 0 || (next === 0 && curve.x[0] !== x)) return Number.NaN
  if (next === 0) return curve.y[0]!
  const [x0, x1] = [curve.x[next - 1]!, curve.x[next]!]
  return curve.y[next - 1]! + ((curve.y[next]! - curve.y[next - 1]!) * (x - x0)) / (x1 - x0)
}

/** No point is above 1 by more than its bar. */
export const belowOne: PointRule = {
  judge({ points, view }) {
    const values = points.flatMap((point) => figureOf(point, view.ordinate) ?? [])
    if (values.length === 0) return unknown('There is no point yet.')
    const top = values.reduce((best, one) => (one.mean > best.mean ? one : best))
    const words = `The highest is ${percent(top.mean)} ± ${percent(Number(top.u95.toPrecision(2)))}.`
    if (top.mean > 1) return fails(`${words} More cannot come out than goes in: look at the instruments.`)
    return top.mean + top.u95 < 1 ? holds(words) : unknown(`${words} Its bar reaches 100 %.`)
  },
}

/** The ordinate at the smallest abscissa lies below its top by more than the bars. */
export const fallsTowardsLess: PointRule = {
  judge(input) {
    const pairs = alongAbscissa(input)
    if (pairs.length < 3) return unknown('It needs points at three places or more.')
    const first = pairs[0]!.y
    const top = pairs.reduce((best, one) => (one.y.mean > best.mean ? one.y : best), first)
    const drop = (top.mean - first.mean) / top.mean
    const bars = (NORMAL_95 * Math.hypot(top.typeA, first.typeA)) / top.mean
    const words = `The first point lies ${percent(drop)} below the top; scatter allows ${percent(bars)}.`
    return drop > bars ? holds(words) : fails(words)
  },
}

/** Points that differ only in the setting agree in y/√x within a share, e.g. the jets among themselves. */
export function settingsAgree(share: number): PointRule {
  return {
    judge({ points, view }) {
      const rates = points.flatMap((point) => {
        const [x, y, jets] = [view.abscissa, view.ordinate, 'openJets'].map((id) => figureOf(point, id))
        if (!x || !y || !jets || jets.mean < 0.5) return []
        return [{ setting: point.setting, rate: y.mean / jets.mean / Math.sqrt(x.mean) }]
      })
      const groups = groupBy(rates, ({ setting }) => setting)
      if (groups.size < 2) return unknown('It needs points with other jets too.')
      const means = [...groups].map(([setting, values]) => ({
        setting,
        mean: values.reduce((sum, { rate }) => sum + rate, 0) / values.length,
      }))
      const [low, high] = [
        means.reduce((a, b) => (b.mean < a.mean ? b : a)),
        means.reduce((a, b) => (b.mean > a.mean ? b : a)),
      ]
      const apart = high.mean / low.mean - 1
      const words = `${low.setting} and ${high.setting} differ by ${percent(apart)} in discharge for a jet at equal head; ${percent(share)} is allowed.`
      return apart <= share ? holds(words) : fails(words)
    },
  }
}

/** At the best point another figure, taken between the points, lies in a range. */
export function bestHas({ figure, low, high }: { figure: string; low: number; high: number }): PointRule {
  return {
    judge(input) {
      const best = input.result.isFitted ? input.result.best : null
      if (!best) return unknown('There is no best point yet.')
      if (best.isAtEnd) return unknown('The best point lies at the end of the range: go further.')
      const rates = input.points.flatMap((point) => {
        const [x, y] = [figureOf(point, input.view.abscissa), figureOf(point, figure)]
        return x && y ? [y.mean / x.mean] : []
      })
      if (rates.length === 0) return unknown('The points do not have the figure that it needs.')
      // At one head the speed ratio grows with the speed in proportion: their ratio is one number for all points.
      const rate = rates.reduce((sum, one) => sum + one, 0) / rates.length
      const [from, to] = [best.xLow * rate, best.xHigh * rate]
      const words = `It is ${number(best.x * rate)} at the best point (95 %: ${number(from)} to ${number(to)}).`
      if (from > high || to < low) return fails(words)
      return best.x * rate >= low && best.x * rate <= high
        ? holds(words)
        : unknown(`${words} The range cannot be told from it.`)
    },
  }
}
