import { type Units, viewOf } from '../../../server/wire/amounts.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'

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

/** "open a jet" → "Open a jet." */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}
