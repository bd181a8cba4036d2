import type { Signal } from '@preact/signals'
import { dayTime } from '../../format/time.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import type { TrendColumns } from '../../plot/trendChart.ts'
import { meanText } from '../parts/figureNumber.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'

const MOST_ROWS = 40

export interface TrendTableProps {
  figures: FigureHold[]
  columns: Signal<TrendColumns>
  zone: string
  title: string
}

/** The drawn rows as numbers, thinned to what can be read; newest first. */
export function TrendTable({ figures, columns, zone, title }: TrendTableProps) {
  const { at, lines } = columns.value
  const step = Math.max(1, Math.ceil(at.length / MOST_ROWS))
  const rows = at.map((_, row) => row).filter((row) => (at.length - 1 - row) % step === 0)
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section class="trend-table" tabIndex={0} aria-label={`${title} as a table`}>
      <table>
        <thead>
          <tr>
            <th scope="col">Time</th>
            {figures.map(({ description, unit }) => (
              <th scope="col" key={description.id} class="at-right">
                <FigureSymbol symbol={description.symbol} /> {unit.print}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.reverse().map((row) => (
            <tr key={at[row]}>
              <th scope="row" class="number">
                {dayTime(at[row]!, zone)}
              </th>
              {figures.map((figure, line) => (
                <td key={figure.description.id} class="at-right number">
                  {meanText(figure, lines[line]?.mean[row])}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
