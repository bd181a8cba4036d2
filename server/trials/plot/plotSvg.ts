import type { DrawnBest, DrawnPoint } from '../../wire/drawn.ts'
import { placeLabel } from './placeLabel.ts'
import { COLOURS, type Plot, type PlotSeries } from './plot.ts'
import { FONT, type Frame, frameOf, n, WIDTH } from './plotFrame.ts'
import { escapeMarkup, textWidth, wrapText } from './plotText.ts'

const MARGIN = 20
const DASH = 'stroke-dasharray="8 5"'

/**
 * Points with 95 % bars, curves with their band, the best point with its interval and the expected line, as one SVG
 * picture on white. The same plot gives the same text. No scripts, no style sheets, nothing from elsewhere.
 */
export function plotSvg(plot: Plot): string {
  const head = headOf(plot)
  const frame = frameOf(plot, head.bottom)
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${n(frame.height)}" width="${WIDTH}" height="${n(frame.height)}" font-family="${FONT}" fill="${COLOURS.ink}" role="img">`,
    `<title>${escapeMarkup(`${plot.title}: ${plot.y} over ${plot.x}`)}</title>`,
    `<rect width="${WIDTH}" height="${n(frame.height)}" fill="#ffffff"/>`,
    head.text,
    frame.axes,
    marksOf(plot, frame),
    '</svg>',
    '',
  ].join('\n')
}

function marksOf(plot: Plot, frame: Frame): string {
  const { series, theory, best, hasZeroLine } = plot
  const { place, left, right } = frame
  const zero = place(0, 0)[1]
  return [
    hasZeroLine ? `<path d="M${n(left)} ${n(zero)}H${n(right)}" stroke="${COLOURS.ink}"/>` : '',
    ...series.map((one, i) => bandMark(one, place, i)),
    ...(theory?.lines ?? []).map((line) =>
      lineMark(line, place, `stroke="${COLOURS.theory}" stroke-width="1.8" ${DASH}`),
    ),
    ...series.map(({ curve }, i) =>
      curve ? lineMark(curve, place, `stroke="${colourOf(i)}" stroke-width="1.8"`) : '',
    ),
    ...series.flatMap(({ points }, i) => points.map((one) => pointMark(one, place, i))),
    best ? bestMark(best, place) : '',
    best ? bestWords(plot, frame) : '',
  ]
    .filter((text) => text !== '')
    .join('\n')
}

function bestWords(plot: Plot, frame: Frame): string {
  const best = plot.best!
  const [x, baseline] = placeLabel(plot, best, frame)
  return `<text x="${n(x)}" y="${n(baseline)}" font-size="13" font-weight="600" fill="${COLOURS.best}" stroke="#ffffff" stroke-width="3" paint-order="stroke">${escapeMarkup(best.label)}</text>`
}

/** Title, subtitle and legend, and where they end. */
function headOf(plot: Plot): { text: string; bottom: number } {
  const width = WIDTH - 2 * MARGIN
  const title = wrapText(plot.title, 17, { width: width / 1.08, most: 1 })
  const subtitle = wrapText(plot.subtitle, 13, { width, most: 3 })
  const lines = [
    `<text x="${MARGIN}" y="30" font-size="17" font-weight="600">${escapeMarkup(title[0]!)}</text>`,
    ...subtitle.map(
      (line, i) =>
        `<text x="${MARGIN}" y="${50 + 18 * i}" font-size="13" fill="${COLOURS.muted}">${escapeMarkup(line)}</text>`,
    ),
  ]
  const legend = legendOf(plot, 50 + 18 * subtitle.length + 6)
  return { text: [...lines, ...legend.lines].join('\n'), bottom: legend.bottom + 16 }
}

interface Entry {
  text: string
  mark: (x: number, y: number) => string
}

/** Marks and what they mean, in as many rows as they need. */
function legendOf(plot: Plot, top: number): { lines: string[]; bottom: number } {
  const lines: string[] = []
  let x = MARGIN
  let y = top
  for (const { text, mark } of entriesOf(plot)) {
    const shown = wrapText(text, 13, { width: WIDTH - 2 * MARGIN - 40, most: 1 })[0]!
    const wide = 40 + textWidth(shown, 13)
    if (x > MARGIN && x + wide > WIDTH - MARGIN) {
      x = MARGIN
      y += 20
    }
    lines.push(
      `${mark(x, y - 4.5)}<text x="${n(x + 36)}" y="${n(y)}" font-size="13">${escapeMarkup(shown)}</text>`,
    )
    x += wide + 18
  }
  return { lines, bottom: y }
}

function entriesOf({ series, theory, best }: Plot): Entry[] {
  const line = (look: string) => (x: number, y: number) =>
    `<path d="M${n(x)} ${n(y)}h30" fill="none" stroke-width="1.8" ${look}/>`
  return [
    ...series.flatMap((one, i): Entry[] => {
      const entries: Entry[] = []
      if (one.points.length > 0)
        entries.push({ text: one.label, mark: (x, y) => shape([x + 15, y], i, true) })
      if (one.points.some((point) => !point.isKept))
        entries.push({ text: 'rejected', mark: (x, y) => shape([x + 15, y], i, false) })
      if (one.curve) entries.push({ text: one.curve.label, mark: curveEntry(i) })
      return entries
    }),
    ...(best ? [{ text: 'best point, 95 %', mark: bestEntry }] : []),
    ...(theory ? [{ text: theory.label, mark: line(`stroke="${COLOURS.theory}" ${DASH}`) }] : []),
  ]
}

function curveEntry(i: number): Entry['mark'] {
  return (x, y) =>
    `<rect x="${n(x)}" y="${n(y - 6)}" width="30" height="12" fill="${colourOf(i)}" fill-opacity="0.14"/><path d="M${n(x)} ${n(y)}h30" stroke="${colourOf(i)}" stroke-width="1.8"/>`
}

function bestEntry(x: number, y: number): string {
  return `<circle cx="${n(x + 15)}" cy="${n(y)}" r="6" fill="none" stroke="${COLOURS.best}" stroke-width="2"/>`
}

type Place = (x: number, y: number) => [number, number]

const POINT = 4.5
const CAP = 4

/** A point with its bars: filled where it counts, a cross where it was rejected. */
function pointMark({ x, y, ux, uy, isKept }: DrawnPoint, place: Place, i: number): string {
  const colour = colourOf(i)
  const bars = [
    ux > 0 ? bar(place(x - ux, y), place(x + ux, y)) : '',
    uy > 0 ? bar(place(x, y - uy), place(x, y + uy)) : '',
  ].join('')
  const path = bars === '' ? '' : `<path d="${bars}" stroke="${colour}" stroke-width="1.2" fill="none"/>`
  return path + shape(place(x, y), i, isKept)
}

/** Circle, square, triangle, diamond: told apart without colour. */
function shape([x, y]: [number, number], i: number, isKept: boolean): string {
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

function bandMark({ curve }: PlotSeries, place: Place, i: number): string {
  if (!curve) return ''
  const order = curve.x.map((_, at) => at)
  const edge = (column: readonly number[], along: readonly number[]) =>
    along.map((at) => point(place(curve.x[at]!, column[at]!)))
  const outline = [...edge(curve.high, order), ...edge(curve.low, [...order].reverse())]
  return `<polygon points="${outline.join(' ')}" fill="${colourOf(i)}" fill-opacity="0.14"/>`
}

function lineMark(columns: { x: number[]; y: number[] }, place: Place, look: string): string {
  const points = columns.x.map((x, i) => point(place(x, columns.y[i]!)))
  return `<polyline points="${points.join(' ')}" fill="none" ${look}/>`
}

function bestMark(best: DrawnBest, place: Place): string {
  const [x, y] = place(best.x, best.y)
  const bars =
    best.parts.map(([low, high]) => bar(place(low, best.y), place(high, best.y))).join('') +
    bar(place(best.x, best.yLow), place(best.x, best.yHigh))
  const look = `stroke="${COLOURS.best}" stroke-width="2" fill="none"`
  return `<path d="${bars}" ${look}/><circle cx="${n(x)}" cy="${n(y)}" r="8" ${look}/>`
}

function colourOf(i: number): string {
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
