import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto'
import { createTurns, type Place } from '../turns.ts'
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

export interface Passwords {
  /** Everything needed to check it again later: "scrypt:N:r:p:salt:key". @throws {Busy} */
  hash(password: string, place?: Place): Promise<string>
  /** Takes as long for a person without a password, or for nobody at all. @throws {Busy} */
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
  const turns = createTurns({
    name: 'passwords waiting to be checked, those of known browsers first',
    atOnce: 1,
    waiting: MOST_WAITING,
    full: 'Too many people are signing in. Try again in two seconds.',
  })

  return {
    hash: (password, place) =>
      turns.take(async () => {
        const salt = randomBytes(SALT_BYTES)
        return `${prefix}${inText(salt)}:${inText(await derive(password.normalize('NFKC'), salt, cost))}`
      }, place),
    matches: (password, stored, place) =>
      turns.take(async () => {
        const [, N, r, p, salt, key] = (stored ?? nobody).split(':')
        const storedCost = { N: Number(N), r: Number(r), p: Number(p) }
        const found = await derive(password.normalize('NFKC'), Buffer.from(salt!, 'base64url'), storedCost)
        return timingSafeEqual(found, Buffer.from(key!, 'base64url')) && stored !== null
      }, place),
    isCurrent: (stored) => stored.startsWith(prefix),
    queue: turns.queue,
  }
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
