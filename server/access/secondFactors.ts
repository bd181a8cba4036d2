import { Secret, TOTP } from 'otpauth'
import type { Clock } from '../clock.ts'
import { DONE, granted, NOT_STORED, type Outcome, type Refusal, refuse } from '../outcome.ts'
import { qrPath } from '../qrPath.ts'
import type { State } from '../state/openState.ts'
import type { SecondFactorKey, SecondFactorView } from '../wire/access.ts'
import { hashCode, makeCode } from './codes.ts'
import type { Person } from './people.ts'

/** What apps take for granted. Source: RFC 6238, 1.2 and 4; RFC 4226, 5.3. */
const RULE = { algorithm: 'SHA1', digits: 6, period: 30 } as const
const STEP_MS = RULE.period * 1000
/** Steps before and after the present one that count: clocks differ, and typing takes a while. Source: RFC 6238, 5.2. */
const WINDOW = 1
/** Source: RFC 4226, 4, R6: 160 bits. */
const SECRET_BYTES = 20
export const RECOVERY_CODES = 10
/** How long [ms] a key that no code has proven is held. */
const UNPROVEN_MS = 900_000

/** After the password: a code from an app (TOTP, RFC 6238), or one of a few for the day on which the phone is lost. */
export interface SecondFactors {
  /** Null while it is off. */
  of(person: number): SecondFactorView | null
  /** Makes a key. It counts once `confirm` has taken a code of it; the one before counts until then. */
  begin(person: Person): SecondFactorKey
  /** @returns the recovery codes, which are told this once. */
  confirm(person: number, code: string): Outcome<string[]>
  /** New recovery codes in place of all before. */
  renewRecovery(person: number): Outcome<string[]>
  /** Why this does not let in; undefined where it does, or where none is asked. A code counts once. */
  refusal(person: number, code: string | undefined): Refusal | undefined
  /** Off, where it was on. */
  remove(person: number): Outcome<null>
}

export const SECOND_WANTED = refuse(401, 'Type the code of your second factor too.', {
  needs: 'secondFactor',
})
const SECOND_WRONG = refuse(401, 'This code does not fit, was used already, or is too old.', {
  needs: 'secondFactor',
})
const NOT_BEGUN = refuse(409, 'There is no new key, or it waited for more than 15 min. Begin again.')
const DOES_NOT_FIT = refuse(
  400,
  'This code does not fit the new key. Is the clock of the phone right? Nothing was changed.',
)
const IS_OFF = refuse(409, 'There is no second factor.')

interface Held {
  person: number
  secret: string
  since: number
  /** Of the last code that counted. */
  step: number
}

export function createSecondFactors(state: State, clock: Clock): SecondFactors {
  const { database } = state
  const put = database.prepare(
    'INSERT OR REPLACE INTO secondFactor (person, secret, since, step) VALUES (?, ?, ?, ?)',
  )
  const erase = database.prepare('DELETE FROM secondFactor WHERE person = ?')
  const rows = database.prepare('SELECT person, secret, since, step FROM secondFactor').all() as Held[]
  const held = new Map(rows.map((row) => [row.person, row]))
  const recovery = createRecoveryCodes(state)
  const unproven = new Map<number, { secret: string; madeAt: number }>()

  const store = ({ person, secret, since, step }: Held) => void put.run(person, secret, since, step)

  /** The step of a code that fits; undefined where it does not. */
  function stepOf(secret: string, code: string): number | undefined {
    const totp = new TOTP({ ...RULE, secret: Secret.fromBase32(secret) })
    const timestamp = clock.now()
    // Full-width digits, as some input methods type them, are digits.
    const token = code.normalize('NFKC').replace(/\s/g, '')
    if (!/^[0-9]{6}$/.test(token)) return undefined
    const delta = totp.validate({ token, timestamp, window: WINDOW })
    return delta === null ? undefined : Math.floor(timestamp / STEP_MS) + delta
  }

  function takeCode(factor: Held, code: string): boolean {
    const step = stepOf(factor.secret, code)
    if (step === undefined) return false
    // A step that lies ahead was counted before this clock was set back, and must not keep its owner out.
    const isAhead = factor.step > Math.floor(clock.now() / STEP_MS) + WINDOW
    if (step <= factor.step && !isAhead) return false
    factor.step = step
    // What the disk refuses counts in memory: a full disk keeps nobody out.
    state.write(() => store(factor))
    return true
  }

  function newRecovery(person: number, andStore: () => void): Outcome<string[]> {
    const codes = Array.from({ length: RECOVERY_CODES }, makeCode)
    return recovery.replace(person, codes, andStore) ? granted(codes) : NOT_STORED
  }

  return {
    of(person) {
      const factor = held.get(person)
      return factor ? { since: factor.since, recoveryCodes: recovery.count(person) } : null
    },
    begin(person) {
      const secret = new Secret({ size: SECRET_BYTES })
      unproven.set(person.id, { secret: secret.base32, madeAt: clock.mono() })
      const address = new TOTP({ ...RULE, secret, issuer: 'Headrace', label: person.name }).toString()
      return { key: secret.base32, address, qr: qrPath(address) }
    },
    confirm(person, code) {
      const fresh = unproven.get(person)
      if (!fresh || clock.mono() - fresh.madeAt > UNPROVEN_MS) return NOT_BEGUN
      const step = stepOf(fresh.secret, code)
      if (step === undefined) return DOES_NOT_FIT
      const factor = { person, secret: fresh.secret, since: clock.now(), step }
      const outcome = newRecovery(person, () => store(factor))
      if (!outcome.ok) return outcome
      held.set(person, factor)
      unproven.delete(person)
      return outcome
    },
    renewRecovery: (person) => (held.has(person) ? newRecovery(person, () => {}) : IS_OFF),
    refusal(person, code) {
      const factor = held.get(person)
      if (!factor) return undefined
      if (!code) return SECOND_WANTED
      return takeCode(factor, code) || recovery.take(person, code) ? undefined : SECOND_WRONG
    },
    remove(person) {
      unproven.delete(person)
      if (!held.has(person)) return IS_OFF
      if (!recovery.replace(person, [], () => void erase.run(person))) return NOT_STORED
      held.delete(person)
      return DONE
    },
  }
}

/** Codes that count once each, of which only hashes are stored. */
function createRecoveryCodes({ database, write }: State) {
  const insert = database.prepare('INSERT INTO recoveryCode (hash, person) VALUES (?, ?)')
  const erase = database.prepare('DELETE FROM recoveryCode WHERE hash = ?')
  const eraseAll = database.prepare('DELETE FROM recoveryCode WHERE person = ?')
  const rows = database.prepare('SELECT hash, person FROM recoveryCode').all() as {
    hash: string
    person: number
  }[]
  const held = new Map(rows.map(({ hash, person }) => [hash, person]))
  const of = (person: number) => [...held].filter(([, owner]) => owner === person)

  return {
    count: (person: number) => of(person).length,
    /** @returns whether it was stored, together with what `andStore` writes. */
    replace(person: number, codes: readonly string[], andStore: () => void): boolean {
      const hashes = codes.map(hashCode)
      const isStored = write(() => {
        eraseAll.run(person)
        for (const hash of hashes) insert.run(hash, person)
        andStore()
      })
      if (!isStored) return false
      for (const [hash] of of(person)) held.delete(hash)
      for (const hash of hashes) held.set(hash, person)
      return true
    },
    take(person: number, code: string): boolean {
      const hash = hashCode(code)
      if (held.get(hash) !== person || !write(() => void erase.run(hash))) return false
      return held.delete(hash)
    },
  }
}
