import type { FigureDescription } from './figure.ts'
import { formatNumber, plain } from './numbers.ts'
import { type UnitView, unitView } from './units.ts'

/** The unit on the wire and the one that people read. */
export type Units = Pick<FigureDescription, 'unit' | 'viewUnit'>

export function viewOf({ unit, viewUnit }: Units): UnitView {
  return unitView(unit, viewUnit)
}

/** One of the figures of a point, or of those that a trial describes. */
export function figureOf<Figure extends { id: string }>(
  { figures }: { figures: readonly Figure[] },
  wanted: string | null | undefined,
): Figure | undefined {
  return figures.find(({ id }) => id === wanted)
}

/** "70.5 ± 1.0" in the unit people read: the value ends where its uncertainty does (JCGM 100:2008, 7.2.6). */
export function withInterval(units: Units, value: number, u95: number): string {
  const view = viewOf(units)
  const { text, uncertainty } = formatNumber(view.value(value), { u95: view.difference(u95) })
  return uncertainty === undefined ? plain(view.value(value)) : `${text} ± ${uncertainty}`
}

/** "70.5 (69.7 to 71.3)". */
export function withEnds(units: Units, value: number, [low, high]: readonly [number, number]): string {
  const view = viewOf(units)
  const u95 = view.difference((high - low) / 2) || Math.abs(view.value(value)) / 1000
  const text = (one: number) => formatNumber(view.value(one), { u95 }).text
  return `${text(value)} (${text(low)} to ${text(high)})`
}

/** "70.5 ± 1.0" where the ends are about as far from the value, "2.8 (2.7 to 4.6)" where they are not. */
export function withEither(units: Units, value: number, [low, high]: readonly [number, number]): string {
  const isEven = Math.abs(high - value - (value - low)) < 0.2 * (high - low)
  return isEven ? withInterval(units, value, (high - low) / 2) : withEnds(units, value, [low, high])
}

/** "Discharge [L/s]", for axes and heads of columns. */
export function titleWithUnit(figure: Units & Pick<FigureDescription, 'name'>): string {
  const { print } = viewOf(figure)
  return print === '' ? figure.name : `${figure.name} [${print}]`
}
