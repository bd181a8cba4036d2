import type { FigureDescription } from '../wire/figure.ts'
import type { Reason } from './assessment.ts'
import { FROZEN } from './stillWatch.ts'

/** What the comparisons say against instruments, as it was first said of these. */
export interface Verdict {
  /** Ids; several where they cannot be told apart. */
  instruments: string[]
  /** E.g. "Shaft torque reads about 3.3 % high." */
  sentence: string
  /** [ms UTC]. */
  since: number
}

/** How the reason of a reading begins whose instrument is suspected. */
export const SUSPECTED = 'under suspicion'

/** E.g. "under suspicion since 14:02: Shaft torque reads about 3.3 % high." */
export function saidOf({ since, sentence }: Verdict, timeZone: string): string {
  const clock = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', timeZone })
  return `${SUSPECTED} since ${clock.format(since)}: ${sentence}`
}

/** Figures named in a sentence; more are counted. */
const MOST_NAMED = 4

interface Hanging {
  kind: string
  index: number
  description: FigureDescription
}

/** What is said against instruments, and with it what follows from them, by `reasons` of each figure. */
export function withWhatHangs(
  said: string[],
  nodes: readonly Hanging[],
  reasons: readonly (readonly Reason[])[],
): string[] {
  if (said.length === 0) return said
  const names = nodes.flatMap(({ kind, index, description: { name, background } }) => {
    const isHanging = reasons[index]!.some(
      ({ text }) => text.startsWith(FROZEN) || text.startsWith(SUSPECTED),
    )
    return kind !== 'measured' && !background && isHanging ? [name.toLowerCase()] : []
  })
  if (names.length === 0) return said
  const rest = names.length - MOST_NAMED
  const named = names.slice(0, MOST_NAMED).join(', ')
  return [...said, `What hangs on it is uncertain: ${named}${rest > 0 ? ` and ${rest} more` : ''}.`]
}
