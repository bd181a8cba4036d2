import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto'
import type { QueueHealth } from '../wire/replies.ts'

/** What makes guessing dear: scrypt's N, r and p (RFC 7914). */
export interface PasswordCost {
  N: number
  r: number
  p: number
}

/**
 * 32 MB and a quarter of a second on a small machine; as strong as N = 2¹⁷, r = 8, p = 1 at a quarter of the
 * memory. Source: OWASP Password Storage Cheat Sheet, scrypt.
 */
export const USUAL_COST: PasswordCost = { N: 2 ** 15, r: 8, p: 3 }

export const SHORTEST_PASSWORD = 12
/** Longer ones are refused, not cut. */
export const LONGEST_PASSWORD = 256

const SALT_BYTES = 16
const KEY_BYTES = 32
/** Memory and one thread are enough for one at a time. */
const MOST_WAITING = 16

/** For whom a password is checked: decides who comes first. */
export interface Place {
  /** Those that count as one: a browser, or a network. */
  from: string
  /** A browser in which this person signed in before. */
  isKnown: boolean
}

const NOWHERE: Place = { from: '', isKnown: false }

/** Thrown when too many passwords wait to be checked. */
export class PasswordsBusy extends Error {
  override name = 'PasswordsBusy'
}

export interface Passwords {
  /** Everything needed to check it again later: "scrypt:N:r:p:salt:key". @throws {PasswordsBusy} */
  hash(password: string, place?: Place): Promise<string>
  /** Takes as long for a person without a password, or for nobody at all. @throws {PasswordsBusy} */
  matches(password: string, stored: string | null, place?: Place): Promise<boolean>
  /** False when it was hashed at another cost than today's. */
  isCurrent(stored: string): boolean
  queue(): QueueHealth
}

export type Derive = (password: string, salt: Buffer, cost: PasswordCost) => Promise<Buffer>

export function createPasswords(cost: PasswordCost = USUAL_COST, derive: Derive = deriveKey): Passwords {
  const prefix = `scrypt:${cost.N}:${cost.r}:${cost.p}:`
  /** What passwords of people who are not there are compared with. */
  const nobody = prefix + [randomBytes(SALT_BYTES), randomBytes(KEY_BYTES)].map(inText).join(':')
  const turns = createPasswordTurns()

  return {
    hash: (password, place = NOWHERE) =>
      turns.inTurn(place, async () => {
        const salt = randomBytes(SALT_BYTES)
        return `${prefix}${inText(salt)}:${inText(await derive(password.normalize('NFKC'), salt, cost))}`
      }),
    matches: (password, stored, place = NOWHERE) =>
      turns.inTurn(place, async () => {
        const [, N, r, p, salt, key] = (stored ?? nobody).split(':')
        const storedCost = { N: Number(N), r: Number(r), p: Number(p) }
        const found = await derive(password.normalize('NFKC'), Buffer.from(salt!, 'base64url'), storedCost)
        return timingSafeEqual(found, Buffer.from(key!, 'base64url')) && stored !== null
      }),
    isCurrent: (stored) => stored.startsWith(prefix),
    queue: turns.queue,
  }
}

interface Turn {
  place: Place
  /** How many of the same place wait before it. */
  rank: number
  begin(): void
  giveUp(): void
}

/**
 * One task at a time. Known browsers come first; then everybody's first before anybody's second, so that whoever
 * sends many from one place waits for nobody but themselves. When full, the last in this order is given up.
 */
function createPasswordTurns() {
  /** In the order in which they will be taken. */
  const waiting: Turn[] = []
  let isRunning = false
  let dropped = 0

  function next(): void {
    const turn = waiting.shift()
    isRunning = turn !== undefined
    if (!turn) return
    for (const one of waiting) if (one.place.from === turn.place.from) one.rank--
    waiting.sort(inOrder)
    turn.begin()
  }

  function line(turn: Turn): void {
    waiting.push(turn)
    waiting.sort(inOrder)
    if (waiting.length <= MOST_WAITING) return
    dropped++
    waiting.pop()!.giveUp()
  }

  return {
    inTurn: <T>({ from, isKnown }: Place, task: () => Promise<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        line({
          place: { from, isKnown },
          rank: waiting.filter((one) => one.place.from === from).length,
          begin: () => void task().then(resolve, reject).finally(next),
          giveUp: () => reject(new PasswordsBusy('Too many passwords are waiting to be checked.')),
        })
        if (!isRunning) next()
      }),
    queue: (): QueueHealth => ({
      name: 'passwords waiting to be checked',
      length: waiting.length,
      limit: MOST_WAITING,
      policy:
        'one at a time, known browsers first; when full, a second of the same place is asked to come again',
      dropped,
    }),
  }
}

/** Stable: what came first stays before its like. */
function inOrder(a: Turn, b: Turn): number {
  return Number(b.place.isKnown) - Number(a.place.isKnown) || a.rank - b.rank
}

/** In the thread pool: the event loop goes on. */
function deriveKey(password: string, salt: Buffer, { N, r, p }: PasswordCost): Promise<Buffer> {
  // scrypt needs 128·N·r bytes and a little more, and refuses to take more than `maxmem`.
  const options = { N, r, p, maxmem: 256 * N * r + 2 ** 20 }
  return new Promise((resolve, reject) => {
    scrypt(password, salt, KEY_BYTES, options, (error, key) => (error ? reject(error) : resolve(key)))
  })
}

function inText(bytes: Buffer): string {
  return bytes.toString('base64url')
}

/** What is wrong with a new password, in words that follow "expected"; undefined when it will do. */
export function passwordFault(password: string, name: string): string | undefined {
  const letters = [...password.normalize('NFKC')]
  if (letters.length < SHORTEST_PASSWORD) return `at least ${SHORTEST_PASSWORD} characters`
  if (letters.length > LONGEST_PASSWORD) return `at most ${LONGEST_PASSWORD} characters`
  if (new Set(letters).size < 5) return 'at least 5 different characters'
  if (name.length > 2 && password.toLowerCase().includes(name.toLowerCase()))
    return 'one that does not contain the name'
  return undefined
}
