import { type Units, viewOf } from '../../wire/amounts.ts'
import { plain } from '../../wire/numbers.ts'

/** A value with its unit, in the unit that people read. */
export function amountText(figure: Units, value: number): string {
  const view = viewOf(figure)
  return `${plain(view.value(value))} ${view.print}`.trim()
}

/** A tolerance or difference with its unit. */
export function differenceText(figure: Units, value: number): string {
  const view = viewOf(figure)
  return `${plain(view.difference(value))} ${view.print}`.trim()
}

/** Five significant digits, for files that programs read too. */
export function short(value: number): string {
  return String(Number(value.toPrecision(5)))
}
