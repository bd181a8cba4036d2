/**
 * Line protocol: measurement{,tag=value} field=value{,field=value} [time], one point per line, "#" for comments.
 * Names escape ",", "=" and space with "\\" (a measurement no "="), texts the quote and "\\" itself. No leading "+", no NaN.
 * Source: the published grammar of line protocol, line-protocol.ebnf.
 */
export interface LinePoint {
  measurement: string
  tags: ReadonlyMap<string, string>
  fields: ReadonlyMap<string, FieldValue>
  /** As written: nanoseconds do not fit a double. */
  time?: string
}

export type FieldValue = number | boolean | string

/** A line that is not line protocol. The lines after it are read all the same. */
export interface LineFault {
  /** e.g. 'line 2, character 18 is " "'. */
  found: string
  /** e.g. 'an "="'. */
  expected: string
}

/** Reads all lines of a text. Never throws. */
export function parseLines(text: string): { points: LinePoint[]; faults: LineFault[] } {
  const points: LinePoint[] = []
  const faults: LineFault[] = []
  const cursor: Cursor = { text, at: 0, line: 1, lineStart: 0, fault: undefined }
  while (cursor.at < text.length) {
    skip(cursor, ' ')
    const first = text[cursor.at]
    if (first !== undefined && !isLineEnd(cursor) && first !== '#') {
      const point = readPoint(cursor)
      if (cursor.fault) faults.push(cursor.fault)
      else points.push(point)
    }
    nextLine(cursor)
  }
  return { points, faults }
}

interface Cursor {
  text: string
  at: number
  line: number
  lineStart: number
  fault: LineFault | undefined
}

function readPoint(cursor: Cursor): LinePoint {
  const measurement = readName(cursor, ', ', 'a measurement')
  const tags = new Map<string, string>()
  while (!cursor.fault && cursor.text[cursor.at] === ',') {
    cursor.at++
    const key = readName(cursor, ',= ', 'the key of a tag')
    expect(cursor, '=')
    tags.set(key, readName(cursor, ',= ', 'the value of a tag'))
  }
  expect(cursor, ' ')
  skip(cursor, ' ')
  const fields = readFields(cursor)
  const hasSpace = cursor.text[cursor.at] === ' '
  skip(cursor, ' ')
  const time = hasSpace && !isLineEnd(cursor) ? readTime(cursor) : undefined
  skip(cursor, ' ')
  if (!isLineEnd(cursor)) complain(cursor, 'the end of the line')
  return { measurement, tags, fields, ...(time === undefined ? {} : { time }) }
}

function readFields(cursor: Cursor): Map<string, FieldValue> {
  const fields = new Map<string, FieldValue>()
  do {
    const key = readName(cursor, ',= ', 'the key of a field')
    expect(cursor, '=')
    fields.set(key, cursor.text[cursor.at] === '"' ? readText(cursor) : readPlainValue(cursor))
  } while (!cursor.fault && accept(cursor, ','))
  return fields
}

/** Up to the first of `stops` that has no "\" before it; the same characters are the ones that "\" protects. */
function readName(cursor: Cursor, stops: string, what: string): string {
  const { text } = cursor
  let name = ''
  for (; cursor.at < text.length; cursor.at++) {
    const c = text[cursor.at]!
    if (c === '\\' && stops.includes(text[cursor.at + 1] ?? '\n')) name += text[++cursor.at]
    else if (stops.includes(c) || c < ' ' || c === '\u007f') break
    else name += c
  }
  if (name === '') complain(cursor, what)
  return name
}

/** In quotes; "\" protects the quote and itself, and line ends are part of the text. */
function readText(cursor: Cursor): string {
  const { text } = cursor
  const opening = { at: cursor.at, line: cursor.line, lineStart: cursor.lineStart }
  let value = ''
  for (cursor.at++; cursor.at < text.length; cursor.at++) {
    const c = text[cursor.at]!
    if (c === '"') {
      cursor.at++
      return value
    }
    const next = text[cursor.at + 1]
    if (c === '\\' && (next === '"' || next === '\\')) {
      value += next
      cursor.at++
    } else {
      if (c === '\n') startLine(cursor, cursor.at + 1)
      value += c
    }
  }
  // Back to where it began: the lines after a forgotten quote are not part of the text.
  Object.assign(cursor, opening)
  complain(cursor, 'a text with a closing quote')
  return value
}

const PLAIN_VALUE = /[^, \r\n]*/y
/** Each digit can be matched in one way only; "\d+\.?\d*" tries n²/2 splits of n digits before it gives up. */
const FLOAT = /^-?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?$/
const INTEGER = /^(-?\d+)i$/
const UNSIGNED = /^(\d+)u$/
const TRUE = new Set(['t', 'T', 'true', 'True', 'TRUE'])
const FALSE = new Set(['f', 'F', 'false', 'False', 'FALSE'])
const INT64 = { low: -(2n ** 63n), high: 2n ** 63n - 1n }
const UINT64 = { low: 0n, high: 2n ** 64n - 1n }

function readPlainValue(cursor: Cursor): FieldValue {
  PLAIN_VALUE.lastIndex = cursor.at
  const token = PLAIN_VALUE.exec(cursor.text)![0]
  const value = plainValue(token)
  if (value === undefined) complain(cursor, 'a number, "true", "false" or a text in quotes')
  cursor.at += token.length
  return value ?? 0
}

function plainValue(token: string): number | boolean | undefined {
  if (FLOAT.test(token)) return Number.isFinite(Number(token)) ? Number(token) : undefined
  const integer = INTEGER.exec(token)
  if (integer) return whole(integer[1]!, INT64)
  const unsigned = UNSIGNED.exec(token)
  if (unsigned) return whole(unsigned[1]!, UINT64)
  if (TRUE.has(token)) return true
  return FALSE.has(token) ? false : undefined
}

const SURE_DIGITS = 18

function whole(digits: string, { low, high }: { low: bigint; high: bigint }): number | undefined {
  if (digits.length > SURE_DIGITS && (BigInt(digits) < low || BigInt(digits) > high)) return undefined
  return Number(digits)
}

const TIME = /-?\d{1,19}/y

function readTime(cursor: Cursor): string {
  TIME.lastIndex = cursor.at
  const time = TIME.exec(cursor.text)?.[0]
  if (time === undefined) complain(cursor, 'a time in whole numbers')
  else cursor.at += time.length
  return time ?? ''
}

function expect(cursor: Cursor, wanted: string): void {
  if (!accept(cursor, wanted)) complain(cursor, wanted === ' ' ? 'a space before the fields' : `"${wanted}"`)
}

function accept(cursor: Cursor, wanted: string): boolean {
  if (cursor.text[cursor.at] !== wanted) return false
  cursor.at++
  return true
}

/** The first complaint of a line counts; what follows from it is noise. */
function complain(cursor: Cursor, expected: string): void {
  const { text, at, line, lineStart } = cursor
  const found = isLineEnd(cursor) ? 'the end' : JSON.stringify(text.slice(at, at + 20).split('\n')[0])
  cursor.fault ??= { found: `line ${line}, character ${at - lineStart + 1} is ${found}`, expected }
}

function isLineEnd({ text, at }: Cursor): boolean {
  return at >= text.length || text[at] === '\n' || (text[at] === '\r' && text[at + 1] === '\n')
}

function nextLine(cursor: Cursor): void {
  const end = cursor.text.indexOf('\n', cursor.at)
  cursor.at = end === -1 ? cursor.text.length : end + 1
  startLine(cursor, cursor.at)
  cursor.fault = undefined
}

function startLine(cursor: Cursor, at: number): void {
  cursor.line++
  cursor.lineStart = at
}

function skip(cursor: Cursor, what: string): void {
  while (cursor.text[cursor.at] === what) cursor.at++
}
