import { endsOf } from '../../server/wire/drawn.ts'
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
  const all = (axis: 'x' | 'y') => lines.flatMap((one) => [...one[axis]])
  return { x: endsOf(all('x'), { room: 0 }), y: endsOf(all('y'), { room: 0.06 }) }
}

/** Dotted: what was fitted, over the colours of what was measured. */
function strokeOf({ look, weight }: DrawnLine, theme: Theme): Stroke {
  return weight === 'thick'
    ? { colour: theme.text, dash: [2, 4], width: 1 }
    : { colour: theme.lines[look % theme.lines.length]!, dash: dashes[look % dashes.length]! }
}
