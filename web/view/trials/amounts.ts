import type { FigureDescription } from '../../../server/wire/figure.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { unitView } from '../../../server/wire/units.ts'

/** A value of a figure with its unit, as read. `isDifference`: offsets do not count. */
export function figureAmount(
  { unit, viewUnit, rated }: FigureDescription,
  value: number | null,
  isDifference = false,
): string {
  const view = unitView(unit, viewUnit)
  if (value === null) return formatNumber(null).text
  const shown = isDifference ? view.difference(value) : view.value(value)
  const usual = rated === undefined ? undefined : view.value(rated)
  const text = isDifference ? String(Number(shown.toPrecision(2))) : formatNumber(shown, { usual }).text
  return `${text}\u00a0${view.print}`.trim()
}

/** "open a jet" → "Open a jet." */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}
