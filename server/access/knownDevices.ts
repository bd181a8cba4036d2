import type { State } from '../state/openState.ts'
import { hashSecret, makeToken } from './codes.ts'

/** Browsers in which one person is known; one more forgets the one used longest ago. */
export const MOST_DEVICES = 20
/** People that one browser knows: those who signed in there last. */
const MOST_IN_A_BROWSER = 8
/** How long a browser keeps its secrets [ms]: as long as cookies may last. Source: RFC 6265bis, 400 days. */
export const DEVICE_LIFETIME_MS = 400 * 24 * 3_600_000
/** Between the secrets of the people in one cookie. */
const SEPARATOR = '.'

/**
 * Browsers in which a person has signed in before, each by a random secret of which only the hash is stored. It
 * opens nothing: it only tells a person's own browser from that of somebody who guesses, so that guessing at a name
 * or from a shared address keeps nobody out of their own browser. It outlives signing out.
 */
export interface KnownDevices {
  /** Key of this browser where this person has signed in before; undefined where not. */
  find(person: number | undefined, cookie: string | undefined): string | undefined
  /** Call when somebody got in; @returns what the browser shall keep. */
  remember(person: number, cookie: string | undefined): string
  /** Of a person whose password was taken away. */
  forget(person: number): void
}

interface Device {
  key: string
  person: number
  seenAt: number
}

export function createKnownDevices(state: State, now: () => number): KnownDevices {
  const { database } = state
  const put = database.prepare('INSERT OR REPLACE INTO device (key, person, seenAt) VALUES (?, ?, ?)')
  const erase = database.prepare('DELETE FROM device WHERE key = ?')
  const eraseAll = database.prepare('DELETE FROM device WHERE person = ?')
  const rows = database.prepare('SELECT key, person, seenAt FROM device').all() as Device[]
  const held = new Map(rows.map((row) => [row.key, row]))

  /** What is not stored is known until the next start. */
  function keep(device: Device): void {
    held.set(device.key, device)
    state.write(() => void put.run(device.key, device.person, device.seenAt))
  }

  function makeRoom(person: number): void {
    const own = [...held.values()].filter((one) => one.person === person).sort((a, b) => a.seenAt - b.seenAt)
    for (const { key } of own.slice(0, Math.max(0, own.length + 1 - MOST_DEVICES))) {
      held.delete(key)
      state.write(() => void erase.run(key))
    }
  }

  const isOf = (person: number | undefined) => (secret: string) =>
    person !== undefined && held.get(hashSecret(secret))?.person === person

  return {
    find(person, cookie) {
      const secret = secretsIn(cookie).find(isOf(person))
      return secret === undefined ? undefined : hashSecret(secret)
    },
    remember(person, cookie) {
      const secrets = secretsIn(cookie)
      const known = secrets.find(isOf(person))
      if (known === undefined) makeRoom(person)
      const own = known ?? makeToken()
      keep({ key: hashSecret(own), person, seenAt: now() })
      return [own, ...secrets.filter((one) => one !== own)].slice(0, MOST_IN_A_BROWSER).join(SEPARATOR)
    },
    forget(person) {
      for (const { key, person: other } of held.values()) if (other === person) held.delete(key)
      state.write(() => void eraseAll.run(person))
    },
  }
}

/** Anything else than secrets of ours is left out, so that nothing foreign is given back to the browser. */
function secretsIn(cookie: string | undefined): string[] {
  return (cookie ?? '')
    .split(SEPARATOR)
    .filter((one) => /^[\w-]{43}$/.test(one))
    .slice(0, MOST_IN_A_BROWSER)
}
