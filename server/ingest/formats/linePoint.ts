/** One line of line protocol. */
export interface LinePoint {
  measurement: string
  tags: Map<string, string>
  fields: Map<string, number | boolean | string>
  /** As written, since nanoseconds do not fit a double. */
  time?: string
}

type Parsed<T> = T | { fault: string }

const FLOAT = /^-?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/
const INTEGER = /^-?\d+i$/
const UNSIGNED = /^\d+u$/
const TRUE = new Set(['t', 'T', 'true', 'True', 'TRUE'])
const FALSE = new Set(['f', 'F', 'false', 'False', 'FALSE'])

/**
 * Reads one line: measurement{,tag} SP field{,field} [SP time].
 * Escapes: measurement "," and space; tags and field keys also "="; in texts `\"` and `\\`.
 * Source: the published grammar of line protocol (line-protocol.ebnf). A leading "+", NaN and infinity are not in it.
 */
export function parseLine(line: string): Parsed<LinePoint> {
  const text = line.trim()
  const head = split(text, ' ', 'names')[0]!
  const [body, time, more] = split(text.slice(head.length).trim(), ' ', 'texts').filter((part) => part !== '')
  if (body === undefined) return { fault: 'it has no field' }
  if (more !== undefined) return { fault: 'it has more than three parts' }
  if (time !== undefined && !/^-?\d+$/.test(time))
    return { fault: `the time "${time}" is not a whole number` }
  const [measurement, ...tagTexts] = split(head, ',', 'names')
  if (!measurement) return { fault: 'it has no measurement' }
  const tags = readPairs(tagTexts, (text) => (text === '' ? undefined : unescapeName(text)))
  if ('fault' in tags) return tags
  const fields = readPairs(split(body, ',', 'texts'), readField)
  if ('fault' in fields) return fields
  return {
    measurement: unescapeName(measurement),
    tags: tags.pairs,
    fields: fields.pairs,
    ...(time === undefined ? {} : { time }),
  }
}

function readPairs<T>(
  texts: string[],
  read: (text: string) => T | undefined,
): Parsed<{ pairs: Map<string, T> }> {
  const pairs = new Map<string, T>()
  for (const text of texts) {
    const [key, ...rest] = split(text, '=', 'names')
    if (!key || rest.length === 0) return { fault: `"${text}" has no "="` }
    const value = read(rest.join('='))
    if (value === undefined) return { fault: `"${text}" has no value that line protocol knows` }
    pairs.set(unescapeName(key), value)
  }
  return { pairs }
}

function readField(text: string): number | boolean | string | undefined {
  if (FLOAT.test(text)) return finite(Number(text))
  if (INTEGER.test(text) || UNSIGNED.test(text)) return finite(Number(text.slice(0, -1)))
  if (TRUE.has(text)) return true
  if (FALSE.has(text)) return false
  const isText = text.length >= 2 && text.startsWith('"') && text.endsWith('"')
  return isText ? text.slice(1, -1).replaceAll(/\\(["\\])/g, '$1') : undefined
}

function finite(value: number): number | undefined {
  return Number.isFinite(value) ? value : undefined
}

/** Splits at `separator` where it is not escaped and, among fields, not inside a quoted text. */
function split(text: string, separator: string, among: 'names' | 'texts'): string[] {
  const parts: string[] = []
  let start = 0
  let isText = false
  for (let i = 0; i < text.length; i++) {
    const c = text[i]
    if (c === '\\') i++
    else if (c === '"' && among === 'texts') isText = !isText
    else if (c === separator && !isText) {
      parts.push(text.slice(start, i))
      start = i + 1
    }
  }
  parts.push(text.slice(start))
  return parts
}

function unescapeName(text: string): string {
  return text.replaceAll(/\\([,= \\])/g, '$1')
}
