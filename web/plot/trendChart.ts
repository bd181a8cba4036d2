import uPlot from 'uplot'
import { hourMinute, weekdayDay } from '../format/time.ts'
import { dashes } from './dashes.ts'
import {
  axisLook,
  createFrame,
  type DrawnChart,
  type Stage,
  type Theme,
  valueAxis,
  withAlpha,
} from './frame.ts'
import { spreadLabels } from './spreadLabels.ts'
import { valueRange } from './valueRange.ts'

const LABEL_GAP = 15
const TICK_SPACE = 22
const DAYS_MS = 2 * 86_400_000
/** uPlot series per line: the mean, and the edges of its band. */
const PER_LINE = 3

/** Columns of one trend, between two times [ms UTC]. */
export interface TrendColumns {
  from: number
  to: number
  /** Times of the rows [ms UTC]. */
  at: number[]
  lines: Record<'min' | 'mean' | 'max', (number | null | undefined)[]>[]
}

export interface TrendOptions {
  /** At the end of each line, "P_h": what follows "_" is set low. */
  symbols: string[]
  /** IANA name of the plant's zone. */
  zone: string
  /** Row under the cursor, or null. */
  onCursor: (row: number | null) => void
}

export interface TrendChart extends DrawnChart<TrendColumns> {
  /** Puts the cursor on a row; null takes it away. */
  point(row: number | null): void
}

/** A trend in `host`, which has a fixed height. */
export function createTrendChart(
  host: HTMLElement,
  columns: TrendColumns,
  options: TrendOptions,
): TrendChart {
  const { plot, show, destroy } = createFrame(host, columns, {
    dataOf: ({ at, lines }) =>
      [
        at,
        ...options.symbols.flatMap((_, line) => {
          const { mean = [], min = [], max = [] } = lines[line] ?? {}
          return [mean, max, min]
        }),
      ] as uPlot.AlignedData,
    look: (stage) => trendLook(stage, options),
  })
  /** Time that the keyboard points at: stays while the drawing moves on, until the mouse takes over. */
  let heldAt: number | null = null
  /** Where the drawing begins; its scale follows only after `show`. */
  let { from } = columns
  const letGo = () => {
    heldAt = null
  }
  const aim = () => {
    const isSeen = heldAt !== null && heldAt >= from
    plot.setCursor(isSeen ? { left: plot.valToPos(heldAt!, 'x'), top: 1 } : { left: -10, top: -10 })
  }
  host.addEventListener('pointermove', letGo)

  return {
    show(next) {
      from = next.from
      show(next)
      if (heldAt !== null) aim()
    },
    point(row) {
      heldAt = row === null ? null : (plot.data[0][row] ?? null)
      aim()
    },
    destroy() {
      host.removeEventListener('pointermove', letGo)
      destroy()
    },
  }
}

function trendLook(
  stage: Stage<TrendColumns>,
  { symbols, zone, onCursor }: TrendOptions,
): Omit<uPlot.Options, 'width' | 'height'> {
  return {
    ms: 1,
    padding: [10, 36, 0, 0],
    tzDate: (at) => uPlot.tzDate(new Date(at), zone),
    cursor: { y: false, drag: { x: false, y: false }, points: { size: 7 } },
    scales: {
      x: { time: true, range: () => [stage.drawn.from, stage.drawn.to] },
      y: { range: (_, min, max) => valueRange(min, max, symbols.length) },
    },
    axes: [timeAxis(stage, zone), { ...valueAxis(stage), space: TICK_SPACE }],
    series: [{}, ...symbols.flatMap((_, line) => seriesOf(line, stage))],
    bands: symbols.map((_, line) => ({
      series: [line * PER_LINE + 2, line * PER_LINE + 3],
      fill: () => withAlpha(stage.theme.lines[line]!),
    })),
    hooks: {
      setCursor: [(plot) => onCursor(plot.cursor.left! >= 0 ? (plot.cursor.idx ?? null) : null)],
      draw: [(plot) => drawLabels(plot, symbols, stage.theme)],
    },
  }
}

function seriesOf(line: number, stage: Stage<TrendColumns>): uPlot.Series[] {
  const stroke = () => stage.theme.lines[line]!
  const edge: uPlot.Series = { stroke: 'transparent', width: 0, points: { show: false } }
  return [{ stroke, width: 1.75, dash: dashes[line] ?? [], points: { show: false } }, edge, edge]
}

function timeAxis(stage: Stage<TrendColumns>, zone: string): uPlot.Axis {
  return {
    ...axisLook(stage),
    size: 28,
    space: 72,
    values: (_, splits) => {
      const { from, to } = stage.drawn
      return splits.map((at) => (to - from > DAYS_MS ? weekdayDay(at, zone) : hourMinute(at, zone)))
    },
    // Ticks of less than a minute, or less than a day on the widest span, would repeat the same words.
    incrs: [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880].map((minutes) => minutes * 60_000),
  }
}

/** Symbols at the ends of the lines, so that nobody has to match colours with a legend. */
function drawLabels(plot: uPlot, symbols: readonly string[], theme: Theme): void {
  const ratio = uPlot.pxRatio
  const ends = symbols.map((_, line) => lastValue(plot.data[line * PER_LINE + 1] ?? []))
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
    drawSymbol(ctx, symbols[line]!, [left + width + 5 * ratio, places[i]!])
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
