import type { Clock } from './clock.ts'

/** Shortest time between two lines of one kind [ms]. */
const PERIOD_MS = 10_000
/** Kinds within that time; lines of more are left out and counted together. */
const MOST_KINDS = 200
const TOO_MANY = `More than ${MOST_KINDS} kinds of lines within ${PERIOD_MS / 1000} s: the others are left out`

/**
 * A log that nobody can flood: of each kind of line one at once, and then every 10 s how many more there were.
 *
 * @param log Hears what follows the line too.
 */
export function createSparseLog<Rest extends unknown[]>(
  log: (line: string, ...rest: Rest) => void,
  clock: Clock,
): (kind: string, line: string, ...rest: Rest) => void {
  const kinds = new Map<string, { latest: string; leftOut: number }>()

  function say(kind: string, line: string, ...rest: Rest): void {
    const told = kinds.get(kind)
    if (told) {
      told.leftOut++
      told.latest = line
    } else if (kinds.size >= MOST_KINDS && kind !== TOO_MANY) say(TOO_MANY, TOO_MANY, ...rest)
    else begin(kind, line, ...rest)
  }

  function begin(kind: string, line: string, ...rest: Rest): void {
    const told = { latest: line, leftOut: 0 }
    kinds.set(kind, told)
    log(line, ...rest)
    clock.after(PERIOD_MS, () => {
      kinds.delete(kind)
      if (told.leftOut > 0)
        begin(
          kind,
          `${told.latest} (${told.leftOut} more of this kind within ${PERIOD_MS / 1000} s)`,
          ...rest,
        )
    })
  }

  return say
}

export type SparseLog = (kind: string, line: string) => void
