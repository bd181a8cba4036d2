import { type Signal, useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { Connection } from '../../connect/connection.ts'
import { clockTime, dayTime } from '../../format/time.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import type { TrendChart, TrendColumns } from '../../plot/trendChart.ts'
import { Chart, trendChart } from '../parts/chart.tsx'
import { meanText } from '../parts/figureNumber.tsx'
import type { CanvasProps, TrendFigureProps } from './trendColumns.ts'
import { useTrendColumns } from './trendColumns.ts'
import { LegendLine } from './trendLegend.tsx'
import { TrendTable } from './trendTable.tsx'

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
