import type { FigureDescription } from '../../../server/wire/figure.ts'
import { formatNumber } from '../../format/numbers.ts'
import { unitView } from '../../format/units.ts'

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

/** "25.43 ± 0.06" in the unit people read. */
export function withInterval(
  { unit, viewUnit }: Pick<FigureDescription, 'unit' | 'viewUnit'>,
  value: number,
  u95: number,
): string {
  const view = unitView(unit, viewUnit)
  const { text, uncertainty } = formatNumber(view.value(value), { u95: view.difference(u95) })
  return uncertainty === undefined ? text : `${text} ± ${uncertainty}`
}

/** "Discharge [L/s]", for axes and heads of columns. */
export function titleWithUnit({
  name,
  unit,
  viewUnit,
}: Pick<FigureDescription, 'name' | 'unit' | 'viewUnit'>): string {
  const { print } = unitView(unit, viewUnit)
  return print === '' ? name : `${name} [${print}]`
}

/** "open a jet" → "Open a jet." */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}
