import type { Outcome } from '../outcome.ts'
import { HttpFault } from './errors.ts'

/** @throws {HttpFault} with the refusal. */
export function given<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  const { status, error, faults, retryAfterS } = outcome
  throw new HttpFault(status, { error, ...(faults ? { faults } : {}) }, retryAfterS)
}

type Defined<T> = { [K in keyof T]: Exclude<T[K], undefined> }

/** Without the keys that were not given. */
export function defined<T extends object>(input: T): Defined<T> {
  return Object.fromEntries(Object.entries(input).filter(([, value]) => value !== undefined)) as Defined<T>
}
