import uPlot from 'uplot'
import { hourMinute, weekdayDay } from '../format/time.ts'
import { dashes } from './dashes.ts'
import { axisLook, createFrame, type Range, type Theme, valueAxis } from './frame.ts'
import { spreadLabels } from './spreadLabels.ts'
import { valueRange } from './valueRange.ts'

const LABEL_GAP = 15
const TICK_SPACE = 22
const DAYS_MS = 2 * 86_400_000
/** uPlot series per line: the mean, and the edges of its band. */
const PER_LINE = 3

export interface ChartLine {
  /** Symbol at the end of the line, "P_h": what follows "_" is set low. */
  symbol: string
}

export interface ChartColumns {
  /** Times of the rows [ms UTC]. */
  at: number[]
  lines: Record<'min' | 'mean' | 'max', (number | null | undefined)[]>[]
}

export interface ChartOptions {
  lines: ChartLine[]
  /** IANA name of the plant's zone. */
  zone: string
  /** Row under the cursor, or null. */
  onCursor: (row: number | null) => void
}

/** A trend chart in `host`, which has a fixed height. Created once; columns are set again and again. */
export function createChart(host: HTMLElement, options: ChartOptions) {
  let range: Range = [0, 1]
  const { plot, destroy } = createFrame(host, [[], ...options.lines.flatMap(() => [[], [], []])], (theme) =>
    plotOptions(options, theme, () => range),
  )
  /** Time that the keyboard points at: stays while the drawing moves on, until the mouse takes over. */
  let heldAt: number | null = null
  const letGo = () => {
    heldAt = null
  }
  const aim = () => {
    const isSeen = heldAt !== null && heldAt >= range[0]
    plot.setCursor(isSeen ? { left: plot.valToPos(heldAt!, 'x'), top: 1 } : { left: -10, top: -10 })
  }
  host.addEventListener('pointermove', letGo)

  return {
    /** Shows these columns between two times [ms UTC]. */
    show(columns: ChartColumns, from: number, to: number): void {
      range = [from, to]
      const data = columns.lines.flatMap(({ mean, min, max }) => [mean, max, min])
      plot.setData([columns.at, ...data] as uPlot.AlignedData)
      if (heldAt !== null) aim()
    },
    /** Puts the cursor on a row; null takes it away. */
    point(row: number | null): void {
      heldAt = row === null ? null : (plot.data[0][row] ?? null)
      aim()
    },
    destroy(): void {
      host.removeEventListener('pointermove', letGo)
      destroy()
    },
  }
}

export type Chart = ReturnType<typeof createChart>

function plotOptions(
  { lines, zone, onCursor }: ChartOptions,
  theme: () => Theme,
  range: () => Range,
): Omit<uPlot.Options, 'width' | 'height'> {
  return {
    ms: 1,
    padding: [10, 36, 0, 0],
    tzDate: (at) => uPlot.tzDate(new Date(at), zone),
    cursor: { y: false, drag: { x: false, y: false }, points: { size: 7 } },
    scales: {
      x: { time: true, range: () => range() },
      y: { range: (_, min, max) => valueRange(min, max, lines.length) },
    },
    axes: [timeAxis(zone, theme, range), { ...valueAxis(theme), space: TICK_SPACE }],
    series: [{}, ...lines.flatMap((_, line) => seriesOf(line, theme))],
    bands: lines.map((_, line) => ({
      series: [line * PER_LINE + 2, line * PER_LINE + 3],
      fill: () => withAlpha(theme().lines[line]!),
    })),
    hooks: {
      setCursor: [(plot) => onCursor(plot.cursor.left! >= 0 ? (plot.cursor.idx ?? null) : null)],
      draw: [(plot) => drawLabels(plot, lines, theme())],
    },
  }
}

function seriesOf(line: number, theme: () => Theme): uPlot.Series[] {
  const stroke = () => theme().lines[line]!
  const edge: uPlot.Series = { stroke: 'transparent', width: 0, points: { show: false } }
  return [{ stroke, width: 1.75, dash: dashes[line] ?? [], points: { show: false } }, edge, edge]
}

function timeAxis(zone: string, theme: () => Theme, range: () => Range): uPlot.Axis {
  return {
    ...axisLook(theme),
    size: 28,
    space: 72,
    values: (_, splits) => {
      const [from, to] = range()
      return splits.map((at) => (to - from > DAYS_MS ? weekdayDay(at, zone) : hourMinute(at, zone)))
    },
    // Ticks of less than a minute, or less than a day on the widest span, would repeat the same words.
    incrs: [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880].map((minutes) => minutes * 60_000),
  }
}

/** Symbols at the ends of the lines, so that nobody has to match colours with a legend. */
function drawLabels(plot: uPlot, lines: ChartLine[], theme: Theme): void {
  const ratio = uPlot.pxRatio
  const ends = lines.map((_, line) => lastValue(plot.data[line * PER_LINE + 1] ?? []))
  const drawn = ends.flatMap((value, line) =>
    value === null ? [] : [{ line, y: plot.valToPos(value, 'y', true) }],
  )
  const { left, top, width, height } = plot.bbox
  const places = spreadLabels(
    drawn.map(({ y }) => y),
    LABEL_GAP * ratio,
    [top + 6 * ratio, top + height - 6 * ratio],
  )
  const { ctx } = plot
  ctx.save()
  ctx.textBaseline = 'middle'
  ctx.textAlign = 'left'
  drawn.forEach(({ line }, i) => {
    ctx.fillStyle = theme.lines[line]!
    drawSymbol(ctx, lines[line]!.symbol, [left + width + 5 * ratio, places[i]!])
  })
  ctx.restore()
}

function drawSymbol(ctx: CanvasRenderingContext2D, symbol: string, [x, y]: [number, number]): void {
  const [main, low] = symbol.split('_')
  const ratio = uPlot.pxRatio
  ctx.font = `italic 600 ${13 * ratio}px system-ui, sans-serif`
  ctx.fillText(main!, x, y)
  if (!low) return
  const shift = ctx.measureText(main!).width + ratio
  ctx.font = `600 ${10 * ratio}px system-ui, sans-serif`
  ctx.fillText(low, x + shift, y + 4 * ratio)
}

function lastValue(column: ArrayLike<number | null | undefined>): number | null {
  for (let i = column.length - 1; i >= 0; i--) if (typeof column[i] === 'number') return column[i]!
  return null
}

/** Colours of the palette are written #rrggbb, so two more digits set how much shines through. */
export function withAlpha(colour: string): string {
  return `${colour}30`
}
