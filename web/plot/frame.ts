import uPlot from 'uplot'
import { formatStep } from '../../server/wire/numbers.ts'

const FONT = '12px system-ui, sans-serif'

export interface Theme {
  text: string
  axis: string
  grid: string
  alert: string
  lines: string[]
}

/** What every kind of chart can do. */
export interface DrawnChart<Drawn> {
  show(drawn: Drawn): void
  destroy(): void
}

/** How a chart is now: read while it draws, for all of it changes. */
export interface Stage<Drawn> {
  readonly drawn: Drawn
  readonly data: uPlot.AlignedData
  readonly theme: Theme
}

export interface ChartKind<Drawn> {
  dataOf: (drawn: Drawn) => uPlot.AlignedData
  look: (stage: Stage<Drawn>) => Omit<uPlot.Options, 'width' | 'height'>
}

/** The one set-up of every chart: fills `host`, follows its size and the colours of the page. */
export function createFrame<Drawn>(
  host: HTMLElement,
  drawn: Drawn,
  { dataOf, look }: ChartKind<Drawn>,
): DrawnChart<Drawn> & { plot: uPlot } {
  const stage = { drawn, data: dataOf(drawn), theme: readTheme(host) }
  const plot = new uPlot(
    { legend: { show: false }, cursor: { show: false }, ...look(stage), ...sizeOf(host) },
    stage.data,
    host,
  )
  const resize = new ResizeObserver(() => plot.setSize(sizeOf(host)))
  resize.observe(host)
  const scheme = matchMedia('(prefers-color-scheme: dark)')
  const repaint = () => {
    stage.theme = readTheme(host)
    plot.redraw(true, true)
  }
  scheme.addEventListener('change', repaint)
  return {
    plot,
    show(next) {
      stage.drawn = next
      stage.data = dataOf(next)
      plot.setData(stage.data)
    },
    destroy() {
      resize.disconnect()
      scheme.removeEventListener('change', repaint)
      plot.destroy()
    },
  }
}

export type Range = [number, number]

/** Titles of two axes, with units, e.g. "Discharge [L/s]". */
export interface Plane {
  x: string
  y: string
}

export interface PlaneKind<Drawn> {
  rangesOf: (drawn: Drawn) => { x: Range; y: Range }
  /** Draws within the axes; what lies beyond them is cut off. */
  draw: (plot: uPlot, drawn: Drawn, theme: Theme) => void
}

/** A chart of two titled axes on which `draw` puts what is to be seen. */
export function createPlane<Drawn extends Plane>(
  host: HTMLElement,
  drawn: Drawn,
  { rangesOf, draw }: PlaneKind<Drawn>,
): DrawnChart<Drawn> {
  return createFrame(host, drawn, {
    dataOf(next) {
      const { x, y } = rangesOf(next)
      return [x, y]
    },
    look: (stage) => ({
      padding: [14, 16, 0, 0],
      scales: {
        x: { time: false, range: () => stage.data[0] as Range },
        y: { range: () => stage.data[1] as Range },
      },
      axes: [
        { ...valueAxis(stage), ...titled(() => stage.drawn.x), size: 28, space: 60 },
        { ...valueAxis(stage), ...titled(() => stage.drawn.y), space: 28 },
      ],
      series: [{}, { stroke: 'transparent', points: { show: false } }],
      hooks: { draw: [(plot) => drawWithin(plot, () => draw(plot, stage.drawn, stage.theme))] },
    }),
  })
}

function titled(label: () => string): uPlot.Axis {
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

export function axisLook(stage: { theme: Theme }): uPlot.Axis {
  return {
    stroke: () => stage.theme.text,
    font: FONT,
    gap: 4,
    grid: { stroke: () => stage.theme.grid, width: 1 },
    ticks: { stroke: () => stage.theme.axis, width: 1, size: 4 },
  }
}

/** Numbers with as many decimals as their step needs, on an axis as wide as the longest of them. */
export function valueAxis(stage: { theme: Theme }): uPlot.Axis {
  return {
    ...axisLook(stage),
    size: (_, values) => Math.max(36, 14 + 7 * Math.max(0, ...(values ?? []).map((text) => text.length))),
    values: (...[, splits, , , step]) => splits.map((value) => formatStep(value, step)),
  }
}

/** Where a place of the plane lies on the canvas. */
export function placeOn(plot: uPlot): (x: number, y: number) => [number, number] {
  return (x, y) => [plot.valToPos(x, 'x', true), plot.valToPos(y, 'y', true)]
}

export interface Stroke {
  colour: string
  /** In pixels of the page. */
  dash: readonly number[]
  width?: number
}

/** A line through places of the plane; a value that is not known breaks it. */
export function drawLine(
  plot: uPlot,
  { x, y }: { x: readonly number[]; y: readonly number[] },
  { colour, dash, width = 1.75 }: Stroke,
): void {
  const { ctx } = plot
  const place = placeOn(plot)
  ctx.beginPath()
  for (const [i, value] of y.entries())
    if (Number.isFinite(value)) {
      const [px, py] = place(x[i]!, value)
      if (Number.isFinite(y[i - 1])) ctx.lineTo(px, py)
      else ctx.moveTo(px, py)
    }
  ctx.strokeStyle = colour
  ctx.lineWidth = width * uPlot.pxRatio
  ctx.setLineDash(dash.map((length) => length * uPlot.pxRatio))
  ctx.stroke()
  ctx.setLineDash([])
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

/** The colours of the palette as they are in this place, light or dark: "rgb(26, 29, 33)". */
function readTheme(host: HTMLElement): Theme {
  const style = getComputedStyle(host)
  const read = (name: string) => {
    host.style.color = `var(${name})`
    return style.color
  }
  const theme = {
    text: read('--ink-muted'),
    axis: read('--line'),
    grid: read('--hair'),
    alert: read('--alert'),
    lines: ['--series-1', '--series-2', '--series-3', '--series-4'].map(read),
  }
  host.style.color = ''
  return theme
}

/** A colour of the theme that lets most of what lies under it shine through. */
export function withAlpha(colour: string): string {
  return colour.replace('rgb(', 'rgba(').replace(')', ', 0.19)')
}
