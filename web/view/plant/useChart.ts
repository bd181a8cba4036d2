import { useSignalEffect } from '@preact/signals'
import type { RefObject } from 'preact'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { retryDelay } from '../../connect/linkStatus.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import type { TrendRows } from '../../hold/trendRows.ts'
import { breakLines, longestBridge } from '../../plot/breakLines.ts'
import type { Chart, ChartColumns } from '../../plot/chart.ts'
import type { CanvasProps } from './trendProps.ts'

/** Time [ms] between two looks for something new to draw. */
const DRAW_MS = 500

/** Keeps a chart in `host` for as long as the component lives, and feeds it. */
export function useChart(
  host: RefObject<HTMLDivElement | null>,
  props: CanvasProps,
): RefObject<Chart | null> {
  const { figures, trends, session, zone, columns, cursor } = props
  const chart = useRef<Chart | null>(null)
  const draw = useMemo(() => {
    return () => {
      const to = session.serverNow()
      const spanMs = trends.span.peek().ms
      columns.value = readColumns(figures, trends.rows.peek(), to - spanMs)
      chart.current?.show(columns.peek(), to - spanMs, to)
    }
  }, [figures, trends])

  useEffect(() => {
    const element = host.current
    if (!element) return
    let isGone = false
    void loadChart().then(({ createChart }) => {
      if (isGone) return
      const lines = figures.map(({ description }) => ({ symbol: description.symbol }))
      chart.current = createChart(element, { lines, zone, onCursor: (row) => (cursor.value = row) })
      draw()
    })
    const stop = drawWhileSeen(element, () => trends.version, draw)
    return () => {
      isGone = true
      stop()
      chart.current?.destroy()
      chart.current = null
    }
  }, [draw])

  useSignalEffect(() => {
    void trends.rows.value
    void trends.span.value
    draw()
  })
  return chart
}

/** Fetches the drawing library; while the connection is down, again and again. */
async function loadChart(attempt = 0): Promise<typeof import('../../plot/chart.ts')> {
  try {
    return await import('../../plot/chart.ts')
  } catch {
    await new Promise((resolve) => setTimeout(resolve, retryDelay(attempt)))
    return loadChart(attempt + 1)
  }
}

/** Columns as drawn: in the view unit, broken where the line must not pass. */
function readColumns(figures: FigureHold[], rows: TrendRows, from: number): ChartColumns {
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

/** Draws when something new came, unless the page or this chart is out of sight. Returns how to stop. */
function drawWhileSeen(element: HTMLElement, version: () => number, draw: () => void): () => void {
  let isSeen = true
  let drawn = -1
  const sight = new IntersectionObserver(([entry]) => {
    isSeen = entry?.isIntersecting ?? true
  })
  sight.observe(element)
  const timer = setInterval(() => {
    if (!isSeen || document.hidden || drawn === version()) return
    drawn = version()
    draw()
  }, DRAW_MS)
  return () => {
    clearInterval(timer)
    sight.disconnect()
  }
}
