import { type Signal, useSignal, useSignalEffect } from '@preact/signals'
import type { RefObject } from 'preact'
import { useCallback, useEffect } from 'preact/hooks'
import type { Connection } from '../../connect/connection.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import type { TrendRows } from '../../hold/trendRows.ts'
import type { Trends } from '../../hold/trends.ts'
import { breakLines, longestBridge } from '../../plot/breakLines.ts'
import type { TrendColumns } from '../../plot/trendChart.ts'

/** What the trends and each of their charts are given. */
export interface TrendProps {
  trends: Trends
  zone: string
  connection: Connection
}

export type TrendFigureProps = TrendProps & { figures: FigureHold[]; isTable: boolean }

export type CanvasProps = TrendFigureProps & {
  columns: Signal<TrendColumns>
  cursor: Signal<number | null>
  title: string
}

/** Time [ms] between two looks for something new to draw. */
const DRAW_MS = 500

/** What a chart of these figures draws, read anew as long as `place` is in sight. */
export function useTrendColumns(
  place: RefObject<HTMLElement | null>,
  { figures, trends, connection }: TrendFigureProps,
): Signal<TrendColumns> {
  const columns = useSignal<TrendColumns>({ from: 0, to: 1, at: [], lines: [] })
  const read = useCallback(() => {
    const to = connection.serverNow()
    const from = to - trends.span.peek().ms
    columns.value = { from, to, ...readColumns(figures, trends.rows.peek(), from) }
  }, [figures, trends])

  useEffect(() => readWhileSeen(place.current!, () => trends.version, read), [read])

  useSignalEffect(() => {
    void trends.rows.value
    void trends.span.value
    read()
  })
  return columns
}

/** Columns as drawn: in the view unit, broken where the line must not pass. */
function readColumns(
  figures: FigureHold[],
  rows: TrendRows,
  from: number,
): Pick<TrendColumns, 'at' | 'lines'> {
  const held = figures.map((figure) => ({
    figure,
    columns: rows.columns(figure.description.id, from - rows.bucketMs),
  }))
  const at = held[0]?.columns.at ?? []
  const lines = held.map(({ figure, columns }) => {
    const longest = longestBridge(figure.description.staleAfterMs, rows.bucketMs)
    const drawn = (column: number[]) => breakLines(at, column.map(figure.unit.value), longest)
    return { min: drawn(columns.min), mean: drawn(columns.mean), max: drawn(columns.max) }
  })
  return { at, lines }
}

/** Reads when something new came, unless the page or this chart is out of sight. Returns how to stop. */
function readWhileSeen(element: HTMLElement, version: () => number, read: () => void): () => void {
  let isSeen = true
  let readAt = -1
  const sight = new IntersectionObserver(([entry]) => {
    isSeen = entry?.isIntersecting ?? true
  })
  sight.observe(element)
  const timer = setInterval(() => {
    if (!isSeen || document.hidden || readAt === version()) return
    readAt = version()
    read()
  }, DRAW_MS)
  return () => {
    clearInterval(timer)
    sight.disconnect()
  }
}
