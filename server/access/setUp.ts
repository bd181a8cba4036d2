import type { State } from '../state/openState.ts'
import { hashCode, isSameHash, makeCode } from './codes.ts'

/** How long the code can be used [ms]. */
export const SET_UP_LIFETIME_MS = 24 * 3_600_000

/** The one-time code on the server's console, with which the first administrator is made in the page. */
export interface SetUp {
  isRight(code: string): boolean
  /** True once for the right code; after that it is no longer one. */
  use(code: string): boolean
  /** Makes a new one in place of any before; undefined when the disk refuses it. */
  renew(): string | undefined
}

export function createSetUp(state: State, now: () => number): SetUp {
  const { database } = state
  const erase = database.prepare('DELETE FROM setUpCode')
  const insert = database.prepare('INSERT INTO setUpCode (hash, at) VALUES (?, ?)')
  const row = database.prepare('SELECT hash, at FROM setUpCode').get() as
    | { hash: string; at: number }
    | undefined
  let known = row ?? null

  const isRight = (code: string) =>
    isSameHash(hashCode(code), known !== null && now() - known.at < SET_UP_LIFETIME_MS ? known.hash : null)

  return {
    isRight,
    use(code) {
      if (!isRight(code)) return false
      known = null
      return state.write(() => void erase.run())
    },
    renew() {
      const code = makeCode()
      const next = { hash: hashCode(code), at: now() }
      const isStored = state.write(() => {
        erase.run()
        insert.run(next.hash, next.at)
      })
      if (!isStored) return undefined
      known = next
      return code
    },
  }
}
