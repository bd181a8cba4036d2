import { type Units, viewOf } from '../../../server/wire/amounts.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import type { RunSummary } from '../../../server/wire/trial.ts'

type Ends = readonly [low: number, high: number]

/** A value of a figure with its unit, as read. `isDifference`: offsets do not count. */
export function figureAmount(
  figure: Units & { rated?: number },
  value: number | null,
  isDifference = false,
): string {
  const view = viewOf(figure)
  if (value === null) return formatNumber(null).text
  const shown = isDifference ? view.difference(value) : view.value(value)
  const usual = figure.rated === undefined ? undefined : view.value(figure.rated)
  const text = isDifference ? String(Number(shown.toPrecision(2))) : formatNumber(shown, { usual }).text
  return `${text}\u00a0${view.print}`.trim()
}

/** "70.5 %": with the digits that its 95 % interval allows. */
export function amountWithin(units: Units, value: number, ends: Ends): string {
  return `${textWithin(units, value, ends)}\u00a0${viewOf(units).print}`.trim()
}

/** "70.5 % (95 %: 69.7 to 71.3)". */
export function amountWithEnds(units: Units, value: number, ends: Ends): string {
  const [low, high] = ends.map((end) => textWithin(units, end, ends))
  return `${amountWithin(units, value, ends)} (95 %: ${low} to ${high})`
}

function textWithin(units: Units, value: number, [low, high]: Ends): string {
  const view = viewOf(units)
  return formatNumber(view.value(value), { u95: view.difference((high - low) / 2) }).text
}

/** "open a jet" → "Open a jet." */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}

/** Class, group and year of a run, as far as they are given. */
export function runNames({ className, group, year }: RunSummary): string {
  return [className, group, year].filter((text) => text !== '').join(', ')
}
