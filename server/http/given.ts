import type { Done } from '../trials/trials.ts'
import { HttpFault } from './errors.ts'

/** @throws {HttpFault} with the refusal. */
export function given<T>(done: Done<T>): T {
  if (done.ok) return done.value
  const { status, error, faults } = done
  throw new HttpFault(status, { error, ...(faults ? { faults } : {}) })
}

type Defined<T> = { [K in keyof T]: Exclude<T[K], undefined> }

/** Without the keys that were not given. */
export function defined<T extends object>(input: T): Defined<T> {
  return Object.fromEntries(Object.entries(input).filter(([, value]) => value !== undefined)) as Defined<T>
}
