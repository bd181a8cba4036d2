import { dashes } from './dashes.ts'
import {
  createPlane,
  type DrawnChart,
  drawLine,
  drawZero,
  type Plane,
  type Range,
  type Stroke,
  type Theme,
} from './frame.ts'

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
      for (const line of lines) drawLine(plot, line, strokeOf(line, theme))
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

/** Dotted: what was fitted, over the colours of what was measured. */
function strokeOf({ look, weight }: DrawnLine, theme: Theme): Stroke {
  return weight === 'thick'
    ? { colour: theme.text, dash: [2, 4], width: 1 }
    : { colour: theme.lines[look % theme.lines.length]!, dash: dashes[look % dashes.length]! }
}
