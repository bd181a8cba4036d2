/** Texts in a picture: escaping, widths that are never too small, and lines that fit. */

/** Text for SVG and HTML, within elements and quoted attributes. */
export function escapeMarkup(text: string): string {
  return withoutControls(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
}

/** XML 1.0 allows no control characters but tab and line ends, and no lone halves of a pair. */
function withoutControls(text: string): string {
  return Array.from(text, (one) => (isForbidden(one) ? ' ' : one)).join('')
}

function isForbidden(one: string): boolean {
  if (one < ' ') return !'\t\n\r'.includes(one)
  return one.length === 1 && ((one >= '\ud800' && one <= '\udfff') || one === '\ufffe' || one === '\uffff')
}

/** Width that a text takes at most in the font of the picture [px]; wide letters and signs count double. */
export function textWidth(text: string, size: number, isBold = false): number {
  const ems = Array.from(text).reduce((sum, one) => sum + emsOf(one), 0)
  return ems * size * (isBold ? 1.08 : 1)
}

function emsOf(letter: string): number {
  if (letter.codePointAt(0)! > 0x2e80) return 1.05
  if ('mwMW%@'.includes(letter)) return 0.95
  if ("ilj.,:;|!\u00b7'()[] ".includes(letter)) return 0.32
  return letter >= 'A' && letter <= 'Z' ? 0.68 : 0.58
}

/** Lines no wider than `width`; what does not fit into `most` lines ends with "…". */
export function wrapText(
  text: string,
  size: number,
  { width, most }: { width: number; most: number },
): string[] {
  const fits = (line: string) => textWidth(line, size) <= width
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`
    if (line === '' || fits(longer)) line = longer
    else {
      lines.push(line)
      line = word
    }
  }
  lines.push(line)
  const shown = lines.slice(0, most)
  if (lines.length > most) shown[most - 1] = `${shown[most - 1]} …`
  return shown.map((one) => (fits(one) ? one : shortened(one, fits)))
}

function shortened(line: string, fits: (line: string) => boolean): string {
  const letters = Array.from(line.replace(/ …$/, ''))
  while (letters.length > 0 && !fits(`${letters.join('')}…`)) letters.pop()
  return `${letters.join('')}…`
}
