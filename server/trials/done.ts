/** An action that cannot be done: the status for HTTP and a sentence for the person. */
export interface Refusal {
  status: 400 | 404 | 409 | 503
  error: string
  faults?: { path: string; received: string; expected: string }[]
}

export type Done<T> = { ok: true; value: T } | ({ ok: false } & Refusal)

export const NOT_STORED: { ok: false } & Refusal = {
  ok: false,
  status: 503,
  error: 'It could not be stored: the disk may be full. Nothing was changed.',
}

export function doneIf(isStored: boolean): Done<null> {
  return isStored ? { ok: true, value: null } : NOT_STORED
}
