import { type Units, viewOf } from './amounts.ts'
import type { BestPoint } from './findings.ts'
import { formatNumber } from './numbers.ts'

/** What a best point tells and what it cannot, in words; on the page and in the pack. */

/** "between 2.7 and 3.6 L/s": the interval of a place that is not told any closer, in one or two parts. */
export function bestRange({ parts }: BestPoint, x: Units): string {
  return parts.map(([low, high]) => between(x, low, high)).join(' or ')
}

/** Whether the interval says more than the place does. */
export function isRange({ isWide, parts }: BestPoint): boolean {
  return isWide || parts.length > 1
}

/** Share of the step between two settings by which a place may miss one that it stands for. */
const NEARLY = 0.15

/**
 * "with 3 or 4 jets, not separable: repeat both": the settings that the interval holds, where nothing between can be set.
 *
 * @param settings Values of the abscissa with 1, 2, 3 … jets, ascending.
 */
export function bestSettings({ x, parts }: BestPoint, settings: readonly number[]): string {
  const step = Math.min(...settings.slice(1).map((one, i) => one - settings[i]!))
  const reach = Number.isFinite(step) ? NEARLY * step : 0
  const away = settings.map((one) => Math.abs(one - x))
  const nearest = away.indexOf(Math.min(...away))
  const held = settings.flatMap((one, i) =>
    i === nearest || parts.some(([low, high]) => low - reach <= one && one <= high + reach) ? [i + 1] : [],
  )
  if (held.length === 1) return `with ${held[0]} ${held[0] === 1 ? 'jet' : 'jets'}.`
  const words = `${held.slice(0, -1).join(', ')} or ${held.at(-1)}`
  return `with ${words} jets, not separable: repeat ${held.length === 2 ? 'both' : 'them'} to tell.`
}

/** What the points cannot tell, and which ones to add; undefined where they have told. */
export function bestRemark(best: BestPoint, x: Units): string | undefined {
  const { isAtEnd, isOpen, isWide, parts, add } = best
  if (add.length === 0) return undefined
  const why = isAtEnd
    ? 'It lies at the end of the range: the true one may be beyond.'
    : parts.length > 1
      ? 'The points cannot tell between two tops.'
      : isOpen
        ? 'The interval ends where the points end.'
        : isWide
          ? 'The top is too flat, or has too few points, to tell the place.'
          : ''
  return `${why} Add points ${add.map((one) => whereText(one, x)).join(' and ')}.`.trim()
}

function whereText({ from, to }: BestPoint['add'][number], x: Units): string {
  if (from !== null && to !== null) return between(x, from, to)
  return from === null ? `below ${amount(x, to!, to!)}` : `above ${amount(x, from, from)}`
}

function between(x: Units, low: number, high: number): string {
  const { print } = viewOf(x)
  return `between ${number(x, low, high - low)} and ${number(x, high, high - low)} ${print}`.trim()
}

function amount(x: Units, value: number, scale: number): string {
  return `${number(x, value, scale)} ${viewOf(x).print}`.trim()
}

/** To a twentieth of `scale`. */
function number(x: Units, value: number, scale: number): string {
  const view = viewOf(x)
  return formatNumber(view.value(value), { u95: Math.abs(view.difference(scale)) / 20 }).text
}
