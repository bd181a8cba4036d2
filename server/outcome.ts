import type { ErrorReply } from './wire/replies.ts'

/** What came of a wish: a value where it was granted, else a status and a sentence for the person who had it. */
export type Outcome<T> = { ok: true; value: T } | Refusal

export interface Refusal {
  ok: false
  /** For HTTP. */
  status: number
  error: string
  /** Where the fault was, what came and what was expected. Never a password or a code. */
  faults?: { path: string; received: string; expected: string }[]
  /** Seconds after which it may be tried again. */
  retryAfterS?: number
  /** What would let it through. */
  needs?: ErrorReply['needs']
}

export const DONE: Outcome<null> = { ok: true, value: null }

export function granted<T>(value: T): Outcome<T> {
  return { ok: true, value }
}

export function refuse(
  status: number,
  error: string,
  more: Pick<Refusal, 'faults' | 'retryAfterS' | 'needs'> = {},
): Refusal {
  return { ...more, ok: false, status, error }
}

/** The sentence for a full or failing disk. */
export const NOT_STORED = refuse(503, 'The disk of the server refused this, so nothing was changed.')

/** What follows where a wish was granted; else its refusal stands. */
export function onceGranted<T, Next>(outcome: Outcome<T>, follow: (value: T) => Next): Next | Refusal {
  return outcome.ok ? follow(outcome.value) : outcome
}

export function doneIf(isStored: boolean): Outcome<null> {
  return isStored ? DONE : NOT_STORED
}

export function noFigure(figure: string): Refusal {
  return refuse(404, `This plant has no figure "${figure.slice(0, 64)}".`)
}
