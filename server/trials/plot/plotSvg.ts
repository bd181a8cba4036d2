import { placeLabel } from './placeLabel.ts'
import { COLOURS, type Plot } from './plot.ts'
import { FONT, type Frame, frameOf, n, WIDTH } from './plotFrame.ts'
import { bandMark, bestMark, colourOf, lineMark, pointMark, shape } from './plotMarks.ts'
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
