import { useEffect, useRef } from 'preact/hooks'
import {
  createLinesChart,
  type DrawnLine,
  type LinesChart,
  type LinesOptions,
} from '../../../plot/linesChart.ts'

/** Lines over a common axis; the numbers stand in the table. */
export function LinesCanvas({ lines, name, isSmall, ...axes }: LinesOptions & CanvasProps) {
  const host = useRef<HTMLDivElement>(null)
  const chart = useRef<LinesChart | null>(null)
  useEffect(() => {
    chart.current = createLinesChart(host.current!, axes)
    return () => chart.current?.destroy()
  }, [axes.x, axes.y, axes.marksZero])
  useEffect(() => chart.current?.show(lines), [lines, axes.x, axes.y])
  return (
    <div
      class={isSmall ? 'curve-canvas trace-small' : 'curve-canvas'}
      ref={host}
      role="img"
      aria-label={name}
    />
  )
}

interface CanvasProps {
  lines: readonly DrawnLine[]
  /** For people who do not see it. */
  name: string
  isSmall?: boolean
}
