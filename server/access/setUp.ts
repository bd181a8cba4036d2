import type { State } from '../state/openState.ts'
import { hashCode, isSameHash, makeCode } from './codes.ts'

/** The one-time code on the server's console, with which the first administrator is made in the page. */
export interface SetUp {
  isRight(code: string): boolean
  /** True once for the right code; after that it is no longer one. */
  use(code: string): boolean
  /** Makes a new one in place of any before; undefined when the disk refuses it. */
  renew(): string | undefined
  /** Whether a code waits to be used. */
  isWaiting(): boolean
}

export function createSetUp(state: State, now: () => number): SetUp {
  const { database } = state
  const erase = database.prepare('DELETE FROM setUpCode')
  const insert = database.prepare('INSERT INTO setUpCode (hash, at) VALUES (?, ?)')
  const row = database.prepare('SELECT hash FROM setUpCode').get() as { hash: string } | undefined
  let hash: string | null = row?.hash ?? null

  const isRight = (code: string) => isSameHash(hashCode(code), hash)

  return {
    isRight,
    use(code) {
      if (!isRight(code)) return false
      hash = null
      return state.write(() => void erase.run())
    },
    renew() {
      const code = makeCode()
      const next = hashCode(code)
      const isStored = state.write(() => {
        erase.run()
        insert.run(next, now())
      })
      if (!isStored) return undefined
      hash = next
      return code
    },
    isWaiting: () => hash !== null,
  }
}
