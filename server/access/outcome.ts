/** What came of a wish: it was granted, or a status and a sentence for the person who had it. */
export type Outcome<T> = ({ ok: true } & T) | Refusal

export interface Refusal {
  ok: false
  status: number
  error: string
  /** The field at fault and what was expected there. What came is never repeated: it may be a password. */
  fault?: { path: string; expected: string }
  retryAfterS?: number
}

export function refuse(status: number, error: string, more: Partial<Refusal> = {}): Refusal {
  return { ...more, ok: false, status, error }
}

/** The sentence for a full or failing disk. */
export const NOT_STORED = refuse(503, 'The disk of the server refused this, so nothing was changed.')
