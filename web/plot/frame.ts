import uPlot from 'uplot'
import { formatStep } from '../../server/wire/numbers.ts'
import 'uplot/dist/uPlot.min.css'

const FONT = '12px system-ui, sans-serif'

export interface Theme {
  text: string
  axis: string
  grid: string
  alert: string
  lines: string[]
}

type Look = Omit<uPlot.Options, 'width' | 'height'>

export interface Frame {
  plot: uPlot
  theme: () => Theme
  destroy(): void
}

/** The one set-up of every chart: fills `host`, follows its size and the colours of the page. */
export function createFrame(
  host: HTMLElement,
  data: uPlot.AlignedData,
  look: (theme: () => Theme) => Look,
): Frame {
  let theme = readTheme(host)
  const plot = new uPlot(
    { legend: { show: false }, cursor: { show: false }, ...look(() => theme), ...sizeOf(host) },
    data,
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
    plot,
    theme: () => theme,
    destroy() {
      resize.disconnect()
      scheme.removeEventListener('change', repaint)
      plot.destroy()
    },
  }
}

export type Range = [number, number]

export interface PlaneOptions<Marks> {
  /** With units, e.g. "Discharge [L/s]". */
  x: string
  y: string
  rangesOf: (marks: readonly Marks[]) => { x: Range; y: Range }
  /** Draws within the axes; what lies beyond them is cut off. */
  draw: (plot: uPlot, marks: readonly Marks[], theme: Theme) => void
}

/** A chart of two titled axes on which marks draw themselves. */
export function createPlane<Marks>(host: HTMLElement, { x, y, rangesOf, draw }: PlaneOptions<Marks>) {
  let marks: readonly Marks[] = []
  let ranges = rangesOf(marks)
  const { plot, destroy } = createFrame(host, [ranges.x, ranges.y], (theme) => ({
    padding: [14, 16, 0, 0],
    scales: { x: { time: false, range: () => ranges.x }, y: { range: () => ranges.y } },
    axes: [
      { ...valueAxis(theme), ...titleOf(x), size: 28, space: 60 },
      { ...valueAxis(theme), ...titleOf(y), space: 28 },
    ],
    series: [{}, { stroke: 'transparent', points: { show: false } }],
    hooks: { draw: [(drawn) => drawWithin(drawn, () => draw(drawn, marks, theme()))] },
  }))
  return {
    show(next: readonly Marks[]): void {
      marks = next
      ranges = rangesOf(next)
      plot.setData([ranges.x, ranges.y])
    },
    destroy,
  }
}

function titleOf(label: string): uPlot.Axis {
  return { label, labelSize: 20, labelFont: FONT, labelGap: 2 }
}

function drawWithin({ ctx, bbox }: uPlot, draw: () => void): void {
  ctx.save()
  ctx.beginPath()
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height)
  ctx.clip()
  draw()
  ctx.restore()
}

export function axisLook(theme: () => Theme): uPlot.Axis {
  return {
    stroke: () => theme().text,
    font: FONT,
    gap: 4,
    grid: { stroke: () => theme().grid, width: 1 },
    ticks: { stroke: () => theme().axis, width: 1, size: 4 },
  }
}

/** Numbers with as many decimals as their step needs, on an axis as wide as the longest of them. */
export function valueAxis(theme: () => Theme): uPlot.Axis {
  return {
    ...axisLook(theme),
    size: (_, values) => Math.max(36, 14 + 7 * Math.max(0, ...(values ?? []).map((text) => text.length))),
    values: (_, splits, __, ___, step) => splits.map((value) => formatStep(value, step)),
  }
}

/** An upright dashed line at x = 0, e.g. at the trigger. */
export function drawZero(plot: uPlot, colour: string): void {
  const { ctx, bbox } = plot
  const x = plot.valToPos(0, 'x', true)
  ctx.save()
  ctx.beginPath()
  ctx.moveTo(x, bbox.top)
  ctx.lineTo(x, bbox.top + bbox.height)
  ctx.strokeStyle = colour
  ctx.lineWidth = uPlot.pxRatio
  ctx.setLineDash([4 * uPlot.pxRatio, 3 * uPlot.pxRatio])
  ctx.stroke()
  ctx.restore()
}

function sizeOf(host: HTMLElement): { width: number; height: number } {
  return { width: Math.max(120, Math.floor(host.clientWidth)), height: Math.floor(host.clientHeight) }
}

function readTheme(host: HTMLElement): Theme {
  const style = getComputedStyle(host)
  const read = (name: string) => style.getPropertyValue(name).trim()
  return {
    text: read('--ink-muted'),
    axis: read('--line'),
    grid: read('--hair'),
    alert: read('--alert'),
    lines: ['--series-1', '--series-2', '--series-3', '--series-4'].map(read),
  }
}
