import type { HTMLAttributes, RefObject } from 'preact'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { untilLoaded } from '../../connect/linkStatus.ts'
import type { DrawnChart } from '../../plot/frame.ts'

/** The kinds of charts. Each is fetched, and the drawing library with it, when one is first shown. */
export const trendChart = () => import('../../plot/trendChart.ts').then((module) => module.createTrendChart)
export const curveChart = () => import('../../plot/curveChart.ts').then((module) => module.createCurveChart)
export const linesChart = () => import('../../plot/linesChart.ts').then((module) => module.createLinesChart)
export const eventChart = () => import('../../plot/eventChart.ts').then((module) => module.createEventChart)

interface ChartProps<Drawn, Made> extends Omit<HTMLAttributes<HTMLDivElement>, 'ref'> {
  /** Fetches how the chart is made. Asked once: another kind of chart in the same place needs a `key`. */
  kind: () => Promise<(host: HTMLElement, drawn: Drawn) => Made>
  /** What it shows now. */
  drawn: Drawn
  /** For people who do not see it. */
  label: string
  /** Holds the chart while there is one. */
  hand?: RefObject<Made | null>
}

/** What is drawn, as long as nothing of it changes: every answer of the server is a new object. */
export function useUnchanged<Drawn>(drawn: Drawn): Drawn {
  return useMemo(() => drawn, [JSON.stringify(drawn)])
}

/** The one way to draw a chart. Its class gives it a height; what stands in it is drawn anew with `drawn`. */
export function Chart<Drawn, Made extends DrawnChart<Drawn>>({
  kind,
  drawn,
  label,
  hand,
  ...attributes
}: ChartProps<Drawn, Made>) {
  const host = useRef<HTMLDivElement>(null)
  const own = useRef<Made | null>(null)
  const chart = hand ?? own
  const newest = useRef(drawn)
  newest.current = drawn
  useEffect(() => {
    let isGone = false
    void untilLoaded(kind).then((create) => {
      // the place may be gone before the effect is told so
      if (!isGone && host.current) chart.current = create(host.current, newest.current)
    })
    return () => {
      isGone = true
      chart.current?.destroy()
      chart.current = null
    }
  }, [])
  useEffect(() => chart.current?.show(drawn), [drawn])
  return <div ref={host} role="img" aria-label={label} {...attributes} />
}
