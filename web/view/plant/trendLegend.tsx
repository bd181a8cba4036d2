import type { Signal } from '@preact/signals'
import type { FigureHold } from '../../hold/plantHold.ts'
import { dashes } from '../../plot/dashes.ts'
import type { TrendColumns } from '../../plot/trendChart.ts'
import { figureText, meanText } from '../parts/figureNumber.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'

export interface LegendLineProps {
  figure: FigureHold
  /** Leaves out the name where the chart's title says it. */
  isOnly: boolean
  /** Which line of the chart: its colour and dashes. */
  line: number
  columns: Signal<TrendColumns>
  cursor: Signal<number | null>
}

/** Name of a line with its stroke and its value: now, or under the cursor. */
export function LegendLine({ figure, line, columns, cursor, isOnly }: LegendLineProps) {
  return (
    <li>
      <svg class={`stroke series-${line + 1}`} viewBox="0 0 28 8" aria-hidden="true">
        <path d="M0 4h28" stroke-dasharray={dashes[line]?.join(' ')} />
      </svg>
      <span>
        {!isOnly && `${figure.description.name} `}
        <FigureSymbol symbol={figure.description.symbol} />
      </span>
      <span class="number">{legendText(figure, columns.value.lines[line]?.mean, cursor.value)}</span>
    </li>
  )
}

function legendText(
  figure: FigureHold,
  mean: (number | null | undefined)[] | undefined,
  cursor: number | null,
): string {
  if (cursor === null) return figureText(figure, figure.value.value).text
  return meanText(figure, mean?.[cursor])
}
