import uPlot from 'uplot'
import { dashes } from './dashes.ts'
import { createPlane, type DrawnChart, drawZero, type Plane, type Range, type Theme } from './frame.ts'

/** One line; `x` ascending, in the units of the axes. */
export interface DrawnLine {
  x: readonly number[]
  y: readonly number[]
  /** Place in the order of colours and dashes. */
  look: number
  /** thin: what was measured · thick: what was fitted through it. */
  weight: 'thin' | 'thick'
}

export interface LinesDrawing extends Plane {
  lines: readonly DrawnLine[]
  /** An upright line at x = 0, e.g. at the trigger. */
  marksZero: boolean
}

/** Lines with abscissas of their own, each at the rate at which it was read. */
export function createLinesChart(host: HTMLElement, drawing: LinesDrawing): DrawnChart<LinesDrawing> {
  return createPlane(host, drawing, {
    rangesOf,
    draw: (plot, { lines, marksZero }, theme) => {
      if (marksZero) drawZero(plot, theme.text)
      for (const line of lines) drawLine(plot, line, theme)
    },
  })
}

function rangesOf({ lines }: LinesDrawing): { x: Range; y: Range } {
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

function drawLine(plot: uPlot, { x, y, look, weight }: DrawnLine, theme: Theme): void {
  const { ctx } = plot
  ctx.beginPath()
  for (const [i, value] of x.entries())
    ctx.lineTo(plot.valToPos(value, 'x', true), plot.valToPos(y[i]!, 'y', true))
  ctx.strokeStyle = weight === 'thick' ? theme.text : theme.lines[look % theme.lines.length]!
  ctx.lineWidth = (weight === 'thick' ? 1 : 1.75) * uPlot.pxRatio
  const dash = weight === 'thick' ? [2, 4] : dashes[look % dashes.length]!
  ctx.setLineDash(dash.map((length) => length * uPlot.pxRatio))
  ctx.stroke()
}
