import { COLOURS, type PlotBest, type PlotPoint, type PlotSeries } from './plot.ts'
import { n } from './plotFrame.ts'

export type Place = (x: number, y: number) => [number, number]

const POINT = 4.5
const CAP = 4

/** A point with its bars: filled where it counts, a cross where it was rejected. */
export function pointMark({ x, y, ux, uy, isKept }: PlotPoint, place: Place, i: number): string {
  const colour = colourOf(i)
  const bars = [
    ux > 0 ? bar(place(x - ux, y), place(x + ux, y)) : '',
    uy > 0 ? bar(place(x, y - uy), place(x, y + uy)) : '',
  ].join('')
  const path = bars === '' ? '' : `<path d="${bars}" stroke="${colour}" stroke-width="1.2" fill="none"/>`
  return path + shape(place(x, y), i, isKept)
}

/** Circle, square, triangle, diamond: told apart without colour. */
export function shape([x, y]: [number, number], i: number, isKept: boolean): string {
  const colour = colourOf(i)
  const r = POINT
  if (!isKept)
    return `<path d="M${n(x - r)} ${n(y - r)}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}" stroke="${colour}" stroke-width="1.6" fill="none"/>`
  const outlines = [
    `<circle cx="${n(x)}" cy="${n(y)}" r="${r}" fill="${colour}"/>`,
    `<rect x="${n(x - r)}" y="${n(y - r)}" width="${2 * r}" height="${2 * r}" fill="${colour}"/>`,
    `<path d="M${n(x)} ${n(y - r)}l${r} ${2 * r}h${-2 * r}z" fill="${colour}"/>`,
    `<path d="M${n(x)} ${n(y - r - 1)}l${r + 1} ${r + 1}l${-r - 1} ${r + 1}l${-r - 1} ${-r - 1}z" fill="${colour}"/>`,
  ]
  return outlines[i % outlines.length]!
}

export function bandMark({ curve }: PlotSeries, place: Place, i: number): string {
  if (!curve) return ''
  const order = curve.x.map((_, at) => at)
  const edge = (column: readonly number[], along: readonly number[]) =>
    along.map((at) => point(place(curve.x[at]!, column[at]!)))
  const outline = [...edge(curve.high, order), ...edge(curve.low, [...order].reverse())]
  return `<polygon points="${outline.join(' ')}" fill="${colourOf(i)}" fill-opacity="0.14"/>`
}

export function lineMark(columns: { x: number[]; y: number[] }, place: Place, look: string): string {
  const points = columns.x.map((x, i) => point(place(x, columns.y[i]!)))
  return `<polyline points="${points.join(' ')}" fill="none" ${look}/>`
}

export function bestMark(best: PlotBest, place: Place): string {
  const [x, y] = place(best.x, best.y)
  const bars =
    bar(place(best.xLow, best.y), place(best.xHigh, best.y)) +
    bar(place(best.x, best.yLow), place(best.x, best.yHigh))
  const look = `stroke="${COLOURS.best}" stroke-width="2" fill="none"`
  return `<path d="${bars}" ${look}/><circle cx="${n(x)}" cy="${n(y)}" r="8" ${look}/>`
}

export function colourOf(i: number): string {
  return COLOURS.series[i % COLOURS.series.length]!
}

function point([x, y]: [number, number]): string {
  return `${n(x)},${n(y)}`
}

function bar([x0, y0]: [number, number], [x1, y1]: [number, number]): string {
  const isFlat = Math.abs(y1 - y0) < Math.abs(x1 - x0)
  const cap = (x: number, y: number) =>
    isFlat ? `M${n(x)} ${n(y - CAP)}v${2 * CAP}` : `M${n(x - CAP)} ${n(y)}h${2 * CAP}`
  return `M${n(x0)} ${n(y0)}L${n(x1)} ${n(y1)}${cap(x0, y0)}${cap(x1, y1)}`
}
