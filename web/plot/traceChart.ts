import uPlot from 'uplot'
import { formatStep } from '../../server/wire/numbers.ts'
import 'uplot/dist/uPlot.min.css'
import { valueRange } from './valueRange.ts'

const FONT = '12px system-ui, sans-serif'

export interface TraceLine {
  /** Seconds from the alarm, ascending. */
  at: number[]
  /** In the unit that people read. */
  value: number[]
  /** Span of all traces of the event [s]. */
  span: [number, number]
}

/** One instrument around an event, at its own rate: seconds from the alarm along, the alarm as an upright line. */
export function createTraceChart(host: HTMLElement, line: TraceLine): { destroy(): void } {
  const colour = (name: string) => getComputedStyle(host).getPropertyValue(name).trim()
  const axis = (): uPlot.Axis => ({
    stroke: () => colour('--ink-muted'),
    font: FONT,
    gap: 4,
    grid: { stroke: () => colour('--hair'), width: 1 },
    ticks: { stroke: () => colour('--line'), width: 1, size: 4 },
  })
  const plot = new uPlot(
    {
      ...sizeOf(host),
      padding: [8, 10, 0, 0],
      legend: { show: false },
      cursor: { show: false },
      scales: {
        x: { time: false, range: () => line.span },
        y: { range: (_, low, high) => valueRange(low, high, 1) },
      },
      axes: [
        { ...axis(), size: 26, space: 56, values: (_, splits) => splits.map((at) => `${at} s`) },
        {
          ...axis(),
          size: 52,
          space: 24,
          values: (_, splits, __, ___, step) => splits.map((one) => formatStep(one, step)),
        },
      ],
      series: [{}, { stroke: () => colour('--series-1'), width: 1.5, points: { show: false } }],
      hooks: { draw: [(drawn) => markAlarm(drawn, colour('--alert'))] },
    },
    [line.at, line.value],
    host,
  )
  const resize = new ResizeObserver(() => plot.setSize(sizeOf(host)))
  resize.observe(host)
  const scheme = matchMedia('(prefers-color-scheme: dark)')
  const repaint = () => plot.redraw(true, true)
  scheme.addEventListener('change', repaint)
  return {
    destroy() {
      resize.disconnect()
      scheme.removeEventListener('change', repaint)
      plot.destroy()
    },
  }
}

function markAlarm(plot: uPlot, colour: string): void {
  const { ctx, bbox } = plot
  const x = plot.valToPos(0, 'x', true)
  ctx.save()
  ctx.strokeStyle = colour
  ctx.setLineDash([4 * uPlot.pxRatio, 3 * uPlot.pxRatio])
  ctx.lineWidth = uPlot.pxRatio
  ctx.beginPath()
  ctx.moveTo(x, bbox.top)
  ctx.lineTo(x, bbox.top + bbox.height)
  ctx.stroke()
  ctx.restore()
}

function sizeOf(host: HTMLElement): { width: number; height: number } {
  return { width: Math.max(120, Math.floor(host.clientWidth)), height: Math.floor(host.clientHeight) }
}
