import { type Signal, useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { Connection } from '../../connect/connection.ts'
import { clockTime, dayTime } from '../../format/time.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { dashes } from '../../plot/dashes.ts'
import type { TrendChart, TrendColumns } from '../../plot/trendChart.ts'
import { Chart, trendChart } from '../parts/chart.tsx'
import { figureText, meanText } from '../parts/figureNumber.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import { type CanvasProps, type TrendFigureProps, useTrendColumns } from './trendColumns.ts'

/** Rows that Page Up and Page Down move the cursor by. */
const PAGE_ROWS = 20
const DAY_MS = 86_400_000

export function TrendFigure(props: TrendFigureProps) {
  const { figures, zone, trends, connection, isTable } = props
  const place = useRef<HTMLElement>(null)
  const columns = useTrendColumns(place, props)
  const cursor = useSignal<number | null>(null)
  const unit = figures[0]?.unit.print ?? ''
  const title = chartTitle(figures)
  return (
    <figure ref={place} class="trend" data-trend={figures.map((figure) => figure.description.id).join(' ')}>
      <figcaption>
        <h3>
          {title}
          {unit && <span class="unit"> {unit}</span>}
        </h3>
        <CursorTime
          columns={columns}
          cursor={cursor}
          zone={zone}
          connection={connection}
          spanMs={trends.span.value.ms}
        />
        <ul class="row legend">
          {figures.map((figure, line) => (
            <LegendLine
              key={figure.description.id}
              figure={figure}
              line={line}
              isOnly={figures.length === 1}
              columns={columns}
              cursor={cursor}
            />
          ))}
        </ul>
      </figcaption>
      <Canvas {...props} columns={columns} cursor={cursor} title={title} />
      {isTable && <TrendTable figures={figures} columns={columns} zone={zone} title={title} />}
    </figure>
  )
}

function chartTitle(figures: FigureHold[]): string {
  if (figures.length === 1) return figures[0]!.description.name
  if (figures.every(({ description }) => description.group === 'efficiency')) return 'Efficiency'
  return GROUP_TITLES[figures[0]!.description.unit] ?? 'Together'
}

const GROUP_TITLES: Record<string, string> = {
  W: 'Power',
  m: 'Levels and heads',
  Pa: 'Pressure',
  V: 'Voltage',
  A: 'Current',
  K: 'Temperature',
  'm3/s': 'Discharge',
  'rad/s': 'Speed',
  '1': 'Shares',
}

interface CursorTimeProps {
  columns: Signal<TrendColumns>
  cursor: Signal<number | null>
  zone: string
  connection: Connection
  spanMs: number
}

function CursorTime({ columns, cursor, zone, connection, spanMs }: CursorTimeProps) {
  const at = cursor.value === null ? undefined : columns.value.at[cursor.value]
  const present = connection.notice.value === null ? 'now' : 'last known'
  if (at === undefined) return <span class="muted cursor-time">{present}</span>
  return <span class="muted cursor-time">{spanMs < DAY_MS ? clockTime(at, zone) : dayTime(at, zone)}</span>
}

/** The drawing, with a cursor that keys move too. */
function Canvas(props: CanvasProps) {
  const { figures, zone, columns, cursor, title } = props
  const hand = useRef<TrendChart>(null)
  const last = Math.max(0, columns.value.at.length - 1)
  const symbols = figures.map(({ description }) => description.symbol)
  return (
    <Chart
      key={`${zone} ${symbols.join()}`}
      kind={async () => {
        const create = await trendChart()
        const onCursor = (row: number | null) => {
          cursor.value = row
        }
        return (host, drawn) => create(host, drawn, { symbols, zone, onCursor })
      }}
      drawn={columns.value}
      hand={hand}
      class="trend-canvas"
      role="slider"
      tabIndex={0}
      label={`Time cursor: ${title}`}
      aria-valuemin={0}
      aria-valuemax={last}
      aria-valuenow={cursor.value ?? last}
      aria-valuetext={spokenRow(props, cursor.value)}
      onKeyDown={(event) => {
        const row = movedRow(event.key, cursor.value, columns.value.at.length)
        if (row === undefined) return
        event.preventDefault()
        hand.current?.point(row)
        cursor.value = row
      }}
      onBlur={() => hand.current?.point(null)}
    />
  )
}

/** Row after a key; null takes the cursor away, undefined says that the key means nothing here. */
function movedRow(key: string, row: number | null, length: number): number | null | undefined {
  const last = length - 1
  const from = row ?? last
  const rows: Record<string, number> = {
    ArrowLeft: from - 1,
    ArrowRight: from + 1,
    PageDown: from - PAGE_ROWS,
    PageUp: from + PAGE_ROWS,
    Home: 0,
    End: last,
  }
  if (key === 'Escape') return null
  const wish = rows[key]
  return wish === undefined || last < 0 ? undefined : Math.min(last, Math.max(0, wish))
}

function spokenRow(
  { figures, columns, zone }: Pick<CanvasProps, 'figures' | 'columns' | 'zone'>,
  cursor: number | null,
): string {
  const { at: times, lines } = columns.value
  const row = cursor ?? times.length - 1
  const at = times[row]
  if (at === undefined) return 'nothing drawn yet'
  const values = figures.map((figure, line) => {
    const value = lines[line]?.mean[row]
    const { description, unit } = figure
    return `${description.name} ${typeof value === 'number' ? `${meanText(figure, value)} ${unit.print}` : 'no value'}`
  })
  return `${dayTime(at, zone)}: ${values.join(', ')}`
}

interface LegendLineProps {
  figure: FigureHold
  /** Leaves out the name where the chart's title says it. */
  isOnly: boolean
  /** Which line of the chart: its colour and dashes. */
  line: number
  columns: Signal<TrendColumns>
  cursor: Signal<number | null>
}

/** Name of a line with its stroke and its value: now, or under the cursor. */
function LegendLine({ figure, line, columns, cursor, isOnly }: LegendLineProps) {
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

const MOST_ROWS = 40

interface TrendTableProps {
  figures: FigureHold[]
  columns: Signal<TrendColumns>
  zone: string
  title: string
}

/** The drawn rows as numbers, thinned to what can be read; newest first. */
function TrendTable({ figures, columns, zone, title }: TrendTableProps) {
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
