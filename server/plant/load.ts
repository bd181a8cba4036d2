import { type Document, isMap, isScalar, isSeq, LineCounter, parseDocument, visit } from 'yaml'
import { type core, z } from 'zod'
import { buildPlant } from './build.ts'
import { mendPlantFile } from './mend.ts'
import type { LineOf, PlantFault, PlantResult } from './plant.ts'
import { takePlusMinus, type WrittenError } from './plusMinus.ts'
import { plantFileSchema } from './schema.ts'

const LONGEST_FILE = 100_000
/** So many faults are named, and how many more there are: finding the line of each reads the whole file. */
const MOST_FAULTS = 50

/**
 * Reads the text of a plant file. Every fault is reported, the first 50 by themselves, with its place, what stood there and what was
 * expected; nothing is thrown for bad content.
 */
export function readPlant(text: string, file: string): PlantResult {
  let written: ReadonlyMap<string, WrittenError> = new Map()
  const schema = z.preprocess((raw) => {
    const taken = takePlusMinus(raw)
    written = taken.written
    return taken.bare
  }, plantFileSchema)
  const read = readDocument(text, schema)
  const value =
    'value' in read
      ? read.value
      : read.failed && mendPlantFile(takePlusMinus(read.failed.raw).bare, read.failed.issues)
  if (!value) return { faults: 'faults' in read ? read.faults : [] }
  const keyLine = 'value' in read ? read.lineOf : read.failed!.lineOf
  const lineOf: LineOf = (path) => keyLine(keysOf(path))
  const { plant, faults: later, lost } = buildPlant(value, file, written)
  const faults = joinFaults('faults' in read ? read.faults : [], later, lineOf)
  if (faults.length === 0) return { plant: { ...plant, text }, lineOf }
  return { faults, rest: { plant, lineOf, lost } }
}

/** Faults of one look at a file and those of a later one, by line; a later one at the same place tells nothing more. */
export function joinFaults(
  first: readonly PlantFault[],
  later: readonly PlantFault[],
  lineOf: LineOf,
): PlantFault[] {
  const isTold = ({ path }: PlantFault) =>
    first.some((one) => one.path !== '' && (path === one.path || path.startsWith(`${one.path}.`)))
  const found = later.filter((one) => !isTold(one)).map((one) => withLine(one, lineOf(one.path)))
  const isOfPlace = ({ path }: PlantFault) => path !== ''
  const placed = sortByLine([...first.filter(isOfPlace), ...found])
  return [...placed, ...first.filter((one) => !isOfPlace(one))]
}

type LineOfKeys = (path: readonly PropertyKey[]) => number | undefined

export type DocumentResult<T> =
  | { value: T; lineOf: LineOfKeys }
  /** `failed` where the text is a document that the schema does not hold for. */
  | { faults: PlantFault[]; failed?: { raw: unknown; issues: core.$ZodIssue[]; lineOf: LineOfKeys } }

/** Reads YAML text by a schema; every fault is reported with its place, as for a plant file. */
export function readDocument<T>(text: string, schema: z.ZodType<T>): DocumentResult<T> {
  if (text.length > LONGEST_FILE)
    return { faults: [fault('', `${text.length} characters`, `at most ${LONGEST_FILE} characters`)] }
  const lines = new LineCounter()
  // the library compares every key with every other: a file of keys alone would take minutes
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: false, logLevel: 'error' })
  if (document.errors.length > 0) {
    return {
      faults: document.errors.map((error) => ({
        ...fault('', firstLine(error.message), 'valid YAML'),
        line: lines.linePos(error.pos[0]).line,
      })),
    }
  }
  if (!isMap(document.contents)) return { faults: [fault('', kindOf(document.contents), 'a YAML mapping')] }
  const twice = findRepeatedKey(document)
  if (twice)
    return {
      faults: [
        withLine(
          fault('', `the key "${twice.name}" twice`, 'each key once in a mapping'),
          lines.linePos(twice.at).line,
        ),
      ],
    }
  const plain = plainOf(document)
  if ('found' in plain)
    return { faults: [fault('', plain.found, 'at most 50 aliases, of anchors that stand before them')] }
  const { raw } = plain
  const lineOf = (path: readonly PropertyKey[]): number | undefined => {
    for (let length = path.length; length > 0; length--) {
      const node = document.getIn(path.slice(0, length), true)
      if (node && typeof node === 'object' && 'range' in node && node.range)
        return lines.linePos((node.range as [number, number, number])[0]).line
    }
    return undefined
  }
  const parsed = schema.safeParse(raw)
  if (parsed.success) return { value: parsed.data, lineOf }
  const { issues } = parsed.error
  const named = issues.slice(0, MOST_FAULTS).flatMap((issue) => faultsOf(issue, raw, lineOf))
  const left =
    issues.slice(0, MOST_FAULTS).reduce((sum, issue) => sum + unnamed(issue), 0) +
    Math.max(0, issues.length - MOST_FAULTS)
  return {
    faults: [...sortByLine(named), ...(left > 0 ? [fault('', `${left} further faults`, 'none')] : [])],
    failed: { raw, issues, lineOf },
  }
}

/** Unknown keys that `describe` does not name. */
function unnamed(issue: core.$ZodIssue): number {
  return issue.code === 'unrecognized_keys' ? Math.max(0, issue.keys.length - MOST_FAULTS) : 0
}

function kindOf(contents: unknown): string {
  if (isSeq(contents)) return 'a list'
  return isScalar(contents) && contents.value !== null ? 'a plain text' : 'nothing'
}

/** Aliases are looked up only now: one without its anchor, or that grows without end, is found here. */
function plainOf(document: Document): { raw: unknown } | { found: string } {
  try {
    return { raw: document.toJS({ maxAliasCount: 50 }) }
  } catch (error) {
    return { found: firstLine(error instanceof Error ? error.message : String(error)) }
  }
}

function findRepeatedKey(document: Document): { name: string; at: number } | undefined {
  let found: { name: string; at: number } | undefined
  visit(document, {
    Map(_key, map) {
      const names = new Set<string>()
      for (const { key } of map.items) {
        if (!isScalar(key)) continue
        const name = String(key.value)
        if (names.has(name)) {
          found = { name, at: key.range?.[0] ?? 0 }
          return visit.BREAK
        }
        names.add(name)
      }
      return undefined
    },
  })
  return found
}

/** What an issue of a schema says, with the value at its place in `raw`. */
export function faultsOf(
  issue: core.$ZodIssue,
  raw: unknown,
  lineOf: (path: readonly PropertyKey[]) => number | undefined = () => undefined,
): PlantFault[] {
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.slice(0, MOST_FAULTS).map((key) => {
      const path = [...issue.path, key]
      return withLine(
        fault(pathText(path), `the key "${key}"`, 'no such key here (see the plant file reference)'),
        lineOf(path),
      )
    })
  }
  const came = valueAt(raw, issue.path)
  const expected = issue.message
    .replace(/^Invalid [a-z]+: /, '')
    .replace(/^expected /, '')
    .replace(/, received .*$/, '')
  return [withLine(fault(pathText(issue.path), show(came), expected), lineOf(issue.path))]
}

function valueAt(raw: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = raw
  for (const key of path) {
    if (value === null || typeof value !== 'object') return undefined
    value = Object.hasOwn(value, key) ? (value as Record<PropertyKey, unknown>)[key] : undefined
  }
  return value
}

function show(value: unknown): string {
  if (value === undefined) return 'nothing'
  const text = typeof value === 'string' ? `"${value}"` : JSON.stringify(value)
  return text.length > 80 ? `${text.slice(0, 77)}…` : text
}

function pathText(path: readonly PropertyKey[]): string {
  return path.reduce<string>((text, key) => {
    if (typeof key === 'number') return `${text}[${key}]`
    return text === '' ? String(key) : `${text}.${String(key)}`
  }, '')
}

function keysOf(path: string): PropertyKey[] {
  return [...path.matchAll(/[^.[\]]+/g)].map(([key]) => (/^\d+$/.test(key) ? Number(key) : key))
}

function fault(path: string, received: string, expected: string): PlantFault {
  return { path, received, expected }
}

function withLine(one: PlantFault, line: number | undefined): PlantFault {
  return line === undefined ? one : { ...one, line }
}

export function sortByLine(faults: PlantFault[]): PlantFault[] {
  return [...faults].sort((a, b) => (a.line ?? 0) - (b.line ?? 0))
}

function firstLine(text: string): string {
  return text.split('\n')[0]!
}

/** "plants/mill.yaml:12: instruments[2].unit: found "psig", expected …" */
export function printFault(file: string, one: PlantFault): string {
  const place = one.line === undefined ? file : `${file}:${one.line}`
  return `${place}: ${faultWords(one)}`
}

/** "instruments[2].unit: found "psig", expected …" */
export function faultWords({ path, received, expected }: PlantFault): string {
  return `${path === '' ? 'file' : path}: found ${received}, expected ${expected}`
}

/** "plants/mill.yaml:12: doubtful: generator.polePairs: found 4, expected …" */
export function printDoubt(file: string, one: PlantFault): string {
  const place = one.line === undefined ? file : `${file}:${one.line}`
  return `${place}: ${one.kind ?? 'doubtful'}: ${faultWords(one)}`
}
