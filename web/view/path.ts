/** How the parts of an address that vary are read; undefined: it is another address. */
const PARAMETERS = {
  plant: (part: string | undefined) => (part ? decoded(part) : undefined),
  /** Of a lesson; may be missing, and is then typed. */
  code: (part: string | undefined) => decoded(part ?? ''),
  run: countOf,
  lesson: countOf,
  replay: countOf,
} as const

type Parameter = keyof typeof PARAMETERS

type NamesIn<Path extends string> = Path extends `${infer First}/${infer Rest}`
  ? NamesIn<First> | NamesIn<Rest>
  : Path extends `:${infer Name extends Parameter}`
    ? Name
    : never

/** What an address says beside the screen, e.g. { plant: string; run: number } of "plant/:plant/trials/:run". */
export type Parameters<Path extends string> = {
  [Name in NamesIn<Path>]: NonNullable<ReturnType<(typeof PARAMETERS)[Name]>>
}

type Values = Record<string, string | number>

function decoded(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return part
  }
}

function countOf(part: string | undefined): number | undefined {
  return /^[1-9]\d*$/.test(part ?? '') ? Number(part) : undefined
}

/** Reads the beginning of an address; undefined where the path does not fit. What comes after it does not count. */
export function readPath(path: string, parts: readonly string[]): Values | undefined {
  const values: Values = {}
  for (const [index, step] of stepsOf(path).entries()) {
    if (!step.startsWith(':')) {
      if (step !== parts[index]) return undefined
      continue
    }
    const name = step.slice(1) as Parameter
    const value = PARAMETERS[name](parts[index])
    if (value === undefined) return undefined
    values[name] = value
  }
  return values
}

/** "plant/:plant/trials" of "a b" → "plant/a%20b/trials". */
export function writePath(path: string, values: Values): string {
  return stepsOf(path)
    .map((step) => (step.startsWith(':') ? encodeURIComponent(values[step.slice(1)] ?? '') : step))
    .join('/')
}

export function stepsOf(path: string): string[] {
  return path === '' ? [] : path.split('/')
}
