import uPlot from 'uplot'
import type { DrawnBest, DrawnPoint, DrawnRun } from '../../server/wire/drawn.ts'
import { curveRange } from './curveRange.ts'
import { dashes } from './dashes.ts'
import {
  createPlane,
  type DrawnChart,
  drawLine,
  type Plane,
  placeOn,
  type Stroke,
  type Theme,
  withAlpha,
} from './frame.ts'

export interface CurveDrawing extends Plane {
  /** The first is the present one. */
  runs: readonly DrawnRun[]
}

const POINT = 4
const CAP = 3
const FONT = '600 12px system-ui, sans-serif'

/** Points with bars, curves with bands. */
export function createCurveChart(host: HTMLElement, drawing: CurveDrawing): DrawnChart<CurveDrawing> {
  return createPlane(host, drawing, { rangesOf: ({ runs }) => curveRange(runs), draw: drawRuns })
}

function drawRuns(plot: uPlot, { runs }: CurveDrawing, theme: Theme): void {
  // Dashed and muted: what was expected, not what was found.
  for (const line of runs[0]?.theory ?? []) drawLine(plot, line, { colour: theme.text, dash: [7, 5] })
  runs.forEach((run, i) => {
    const colour = theme.lines[i % theme.lines.length]!
    drawCurve(plot, run, { colour, dash: dashes[i % dashes.length]! })
  })
  runs.forEach((run, i) => {
    const colour = theme.lines[i % theme.lines.length]!
    for (const point of run.points) drawPoint(plot, point, { colour, shape: i })
  })
  if (runs[0]?.best) drawBest(plot, runs[0].best, theme)
}

/** Its band, and the line over it. */
function drawCurve(plot: uPlot, { curve }: DrawnRun, stroke: Stroke): void {
  if (!curve) return
  const { ctx } = plot
  const place = placeOn(plot)
  const order = curve.x.map((_, i) => i)
  ctx.beginPath()
  for (const i of order) ctx.lineTo(...place(curve.x[i]!, curve.high[i]!))
  for (const i of order.reverse()) ctx.lineTo(...place(curve.x[i]!, curve.low[i]!))
  ctx.fillStyle = withAlpha(stroke.colour)
  ctx.fill()
  drawLine(plot, curve, stroke)
}

function drawPoint(
  plot: uPlot,
  { x, y, ux, uy, isKept }: DrawnPoint,
  { colour, shape }: { colour: string; shape: number },
): void {
  const { ctx } = plot
  const place = placeOn(plot)
  const ratio = uPlot.pxRatio
  const [px, py] = place(x, y)
  ctx.strokeStyle = colour
  ctx.lineWidth = ratio
  if (isKept) {
    drawBar(ctx, place(x - ux, y), place(x + ux, y))
    drawBar(ctx, place(x, y - uy), place(x, y + uy))
  }
  const r = POINT * ratio
  ctx.beginPath()
  if (!isKept) {
    // A cross: measured, but not used.
    ctx.moveTo(px - r, py - r)
    ctx.lineTo(px + r, py + r)
    ctx.moveTo(px + r, py - r)
    ctx.lineTo(px - r, py + r)
    ctx.lineWidth = 1.5 * ratio
    ctx.stroke()
    return
  }
  if (shape % 2 === 0) ctx.arc(px, py, r, 0, 2 * Math.PI)
  else ctx.rect(px - r, py - r, 2 * r, 2 * r)
  ctx.fillStyle = colour
  ctx.fill()
}

function drawBar(
  ctx: CanvasRenderingContext2D,
  [x0, y0]: [number, number],
  [x1, y1]: [number, number],
): void {
  const cap = CAP * uPlot.pxRatio
  const isFlat = y0 === y1
  ctx.beginPath()
  ctx.moveTo(x0, y0)
  ctx.lineTo(x1, y1)
  for (const [x, y] of [
    [x0, y0],
    [x1, y1],
  ] as const) {
    ctx.moveTo(isFlat ? x : x - cap, isFlat ? y - cap : y)
    ctx.lineTo(isFlat ? x : x + cap, isFlat ? y + cap : y)
  }
  ctx.stroke()
}

/** The best point: its interval as a cross with wide arms, and its words where they fit. */
function drawBest(plot: uPlot, best: DrawnBest, theme: Theme): void {
  const { ctx } = plot
  const place = placeOn(plot)
  const ratio = uPlot.pxRatio
  const [px, py] = place(best.x, best.y)
  ctx.strokeStyle = theme.lines[2]!
  ctx.lineWidth = 2 * ratio
  for (const [low, high] of best.parts) drawBar(ctx, place(low, best.y), place(high, best.y))
  drawBar(ctx, place(best.x, best.yLow), place(best.x, best.yHigh))
  const r = 7 * ratio
  ctx.beginPath()
  ctx.arc(px, py, r, 0, 2 * Math.PI)
  ctx.stroke()
  ctx.font = FONT.replace('12px', `${12 * ratio}px`)
  ctx.fillStyle = theme.lines[2]!
  ctx.textBaseline = 'bottom'
  const wide = ctx.measureText(best.label).width
  const { left, width, top } = plot.bbox
  const x = Math.min(Math.max(px - wide / 2, left + 4 * ratio), left + width - wide - 4 * ratio)
  const [, barTop] = place(best.x, best.yHigh)
  ctx.fillText(best.label, x, Math.max(Math.min(barTop, py - r) - 4 * ratio, top + 16 * ratio))
}
