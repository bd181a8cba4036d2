import uPlot from 'uplot'
import { formatStep } from '../../server/wire/numbers.ts'
import 'uplot/dist/uPlot.min.css'
import { axisLook, readTheme, sizeOf, type Theme } from './chart.ts'
import { dashes } from './dashes.ts'

/** One line; `x` ascending, in the units of the axes. */
export interface DrawnLine {
  x: readonly number[]
  y: readonly number[]
  /** Place in the order of colours and dashes. */
  look: number
  /** thin: what was measured · thick: what was fitted through it. */
  weight: 'thin' | 'thick'
}

export interface LinesOptions {
  /** With units. */
  x: string
  y: string
  /** An upright line at x = 0, e.g. at the trigger. */
  marksZero: boolean
}

/** Lines with abscissas of their own, each at the rate at which it was read. */
export function createLinesChart(host: HTMLElement, { x, y, marksZero }: LinesOptions) {
  let theme = readTheme(host)
  let lines: readonly DrawnLine[] = []
  let ranges = rangesOf([])
  const axis = (label: string, isX: boolean): uPlot.Axis => ({
    ...axisLook(() => theme),
    label,
    labelSize: 20,
    labelFont: '12px system-ui, sans-serif',
    labelGap: 2,
    size: isX
      ? 28
      : (_, values) => Math.max(36, 14 + 7 * Math.max(0, ...(values ?? []).map((text) => text.length))),
    space: isX ? 60 : 28,
    values: (_, splits, __, ___, step) => splits.map((value) => formatStep(value, step)),
  })
  const plot = new uPlot(
    {
      ...sizeOf(host),
      padding: [14, 16, 0, 0],
      legend: { show: false },
      cursor: { show: false },
      scales: { x: { time: false, range: () => ranges.x }, y: { range: () => ranges.y } },
      axes: [axis(x, true), axis(y, false)],
      series: [{}, { stroke: 'transparent', points: { show: false } }],
      hooks: { draw: [(drawn) => drawLines(drawn, { lines, theme, marksZero })] },
    },
    [ranges.x, ranges.y],
    host,
  )
  const resize = new ResizeObserver(() => plot.setSize(sizeOf(host)))
  resize.observe(host)
  const scheme = matchMedia('(prefers-color-scheme: dark)')
  const repaint = () => {
    theme = readTheme(host)
    plot.redraw(true, true)
  }
  scheme.addEventListener('change', repaint)
  return {
    show(next: readonly DrawnLine[]): void {
      lines = next
      ranges = rangesOf(next)
      plot.setData([ranges.x, ranges.y])
    },
    destroy(): void {
      resize.disconnect()
      scheme.removeEventListener('change', repaint)
      plot.destroy()
    },
  }
}

export type LinesChart = ReturnType<typeof createLinesChart>

type Range = [number, number]

function rangesOf(lines: readonly DrawnLine[]): { x: Range; y: Range } {
  return {
    x: spanOf(
      lines.flatMap((one) => [...one.x]),
      0,
    ),
    y: spanOf(
      lines.flatMap((one) => [...one.y]),
      0.06,
    ),
  }
}

/** Ends of an axis with a share of room; never empty. */
function spanOf(values: readonly number[], room: number): Range {
  const [low, high] = values.reduce(
    ([a, b], value) => [Math.min(a, value), Math.max(b, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  )
  if (low > high) return [0, 1]
  const span = high - low || Math.abs(high) * 0.02 || 1
  return [
    low - room * span - (high === low ? span / 2 : 0),
    high + room * span + (high === low ? span / 2 : 0),
  ]
}

interface Drawing {
  lines: readonly DrawnLine[]
  theme: Theme
  marksZero: boolean
}

function drawLines(plot: uPlot, { lines, theme, marksZero }: Drawing): void {
  const { ctx, bbox } = plot
  ctx.save()
  ctx.beginPath()
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height)
  ctx.clip()
  if (marksZero) drawZero(plot, theme)
  for (const { x, y, look, weight } of lines) {
    ctx.beginPath()
    for (const [i, value] of x.entries())
      ctx.lineTo(plot.valToPos(value, 'x', true), plot.valToPos(y[i]!, 'y', true))
    ctx.strokeStyle = weight === 'thick' ? theme.text : theme.lines[look % theme.lines.length]!
    ctx.lineWidth = (weight === 'thick' ? 1 : 1.75) * uPlot.pxRatio
    const dash = weight === 'thick' ? [2, 4] : dashes[look % dashes.length]!
    ctx.setLineDash(dash.map((length) => length * uPlot.pxRatio))
    ctx.stroke()
  }
  ctx.restore()
}

function drawZero(plot: uPlot, theme: Theme): void {
  const { ctx, bbox } = plot
  const x = plot.valToPos(0, 'x', true)
  ctx.beginPath()
  ctx.moveTo(x, bbox.top)
  ctx.lineTo(x, bbox.top + bbox.height)
  ctx.strokeStyle = theme.text
  ctx.lineWidth = uPlot.pxRatio
  ctx.setLineDash([4 * uPlot.pxRatio, 3 * uPlot.pxRatio])
  ctx.stroke()
}
