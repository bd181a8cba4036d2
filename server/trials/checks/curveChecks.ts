import { NORMAL_95 } from '../../statistics/normal.ts'
import { fitLinear } from '../../statistics/regression.ts'
import { studentQuantile } from '../../statistics/studentT.ts'
import { figureOf } from '../../wire/amounts.ts'
import { fails, holds, number, type PointRule, parameterOf, percent, unknown } from './check.ts'

interface Range {
  low: number
  high: number
}

/** A constant of the curve lies in a range; it does not when its whole interval lies outside. */
export function constantWithin({ symbol, low, high }: Range & { symbol: string }): PointRule {
  return {
    judge({ result }) {
      const found = parameterOf(result, symbol)
      if (!found) return unknown('There is no curve yet.')
      return within({ value: found.value, low: found.low, high: found.high }, { low, high })
    },
  }
}

function within(found: Range & { value: number }, { low, high }: Range) {
  const words = `It is ${number(found.value)} (95 %: ${number(found.low)} to ${number(found.high)}).`
  if (found.low > high || found.high < low) return fails(words)
  return found.value >= low && found.value <= high
    ? holds(words)
    : unknown(`${words} The points cannot tell.`)
}

/** A constant of the curve agrees with the plant file. */
export function constantAgrees({ symbol, reference }: { symbol: string; reference: string }): PointRule {
  return {
    references: [reference],
    judge({ result, references }) {
      const found = parameterOf(result, symbol)
      const wanted = references[reference]
      if (wanted === undefined) return unknown('The plant file does not give it.')
      if (!found) return unknown('There is no curve yet.')
      const words = `Found ${number(found.value)} (95 %: ${number(found.low)} to ${number(found.high)}), plant file ${number(wanted)} ${found.unit} (SI).`
      return found.low <= wanted && wanted <= found.high ? holds(words) : fails(words)
    },
  }
}

/** A further curve through the same points has a constant within its interval of a number. */
export function furtherHas({ symbol, value }: { symbol: string; value: number }): PointRule {
  return {
    judge({ further }) {
      const found = further.map(({ result }) => parameterOf(result, symbol)).find((one) => one)
      if (!found) return unknown('There is no curve yet.')
      const words = `${symbol} is ${number(found.value)} (95 %: ${number(found.low)} to ${number(found.high)}).`
      return found.low <= value && value <= found.high ? holds(words) : fails(words)
    },
  }
}

/** Share of the runaway speed over the best, from the exponent of T = T₀·(1 − (n/n_r)^m): (1 + m)^(1/m). */
export function runawayRatio(range: Range): PointRule {
  const ratio = (m: number) => (1 + m) ** (1 / m)
  return {
    judge({ result }) {
      const found = parameterOf(result, 'm')
      if (!found) return unknown('There is no curve yet.')
      // The ratio falls with m.
      return within({ value: ratio(found.value), low: ratio(found.high), high: ratio(found.low) }, range)
    },
  }
}

/** A straight line through the points meets the ordinate at zero within its interval and the bars. */
export const lineThroughZero: PointRule = {
  judge({ points, view }) {
    const pairs = points.flatMap((point) => {
      const [x, y] = [figureOf(point, view.abscissa), figureOf(point, view.ordinate)]
      return x && y ? [{ x: x.mean, y: y.mean, u: y.typeB }] : []
    })
    if (pairs.length < 4) return unknown('It needs four points or more.')
    const fit = fitLinear({ columns: [pairs.map((pair) => pair.x)], y: pairs.map((pair) => pair.y) })
    const [zero, error] = [fit.coefficients[0]!, fit.standardErrors[0]!]
    if (!Number.isFinite(error)) return unknown('All points lie at one place.')
    const top = Math.max(...pairs.map((pair) => Math.abs(pair.y)))
    const bars = Math.hypot(
      studentQuantile(0.95, fit.degreesOfFreedom) * error,
      NORMAL_95 * Math.max(...pairs.map((pair) => pair.u)),
    )
    const words = `The line meets zero at ${percent(Math.abs(zero) / top)} of the highest value; its bar is ${percent(bars / top)}.`
    return Math.abs(zero) <= bars ? holds(words) : fails(words)
  },
}

/** A constant of the curve is at most a share of a constant of the plant file. */
export function constantBelow({
  symbol,
  reference,
  share,
}: {
  symbol: string
  reference: string
  share: number
}): PointRule {
  return {
    references: [reference],
    judge({ result, further, references }) {
      const found = [result, ...further.map((one) => one.result)]
        .map((one) => parameterOf(one, symbol))
        .find((one) => one)
      const whole = references[reference]
      if (!found || whole === undefined) return unknown('There is no curve yet.')
      const words = `They are ${percent(found.value / whole)} of it (95 %: ${percent(found.low / whole)} to ${percent(found.high / whole)}).`
      if (found.low > share * whole) return fails(words)
      return found.value <= share * whole ? holds(words) : unknown(words)
    },
  }
}

/** The first series lies above the second at every place that both have. */
export const firstAbove: PointRule = {
  judge({ comparison }) {
    if (!comparison?.isPossible) return unknown(comparison?.lacking ?? 'It needs both ways.')
    const { rows } = comparison
    const least = rows.reduce((a, b) => (b.gain < a.gain ? b : a))
    const words = `The gain is at least ${percent(least.gain)} (95 %: ${percent(least.low)} to ${percent(least.high)}, of the power put in).`
    if (rows.some((row) => row.high < 0)) return fails(words)
    return rows.every((row) => row.low > 0)
      ? holds(words)
      : unknown(`${words} Not at every discharge can it be told from zero.`)
  },
}

/** Every stage that has a curve closes. */
export const balanceCloses: PointRule = {
  judge({ balance }) {
    const rows = (balance?.points ?? []).flatMap(({ point, rows: all }) =>
      all.filter((row) => row.state !== 'notJudged').map((row) => ({ point, ...row })),
    )
    if (rows.length === 0) return unknown('No stage can be held against a curve yet.')
    const open = rows.filter((row) => row.state === 'open')
    if (open.length === 0) return holds(`All ${rows.length} comparisons close within their uncertainty.`)
    const named = open
      .slice(0, 3)
      .map(
        ({ name, point, residual }) =>
          `${name} at point ${point} (${number(residual!.value)} ± ${number(residual!.u95)} W)`,
      )
    // One comparison in twenty is expected outside a 95 % interval.
    const words = `${open.length} of ${rows.length} do not: ${named.join('; ')}.`
    return open.length > Math.max(1, 0.1 * rows.length)
      ? fails(words)
      : unknown(`${words} About one in twenty is chance.`)
  },
}
