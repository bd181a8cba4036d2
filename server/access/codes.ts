import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/** Letters and digits that are not taken for one another when read aloud or copied by hand. */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
const GROUPS = 5
const GROUP_LENGTH = 4

/** A code for handing over, "7K2M-…": 100 random bits, too many to guess, so a plain hash of it is enough. */
export function makeCode(): string {
  const letters = [...randomBytes(GROUPS * GROUP_LENGTH)].map((byte) => ALPHABET[byte % ALPHABET.length])
  return Array.from({ length: GROUPS }, (_, i) =>
    letters.slice(i * GROUP_LENGTH, (i + 1) * GROUP_LENGTH).join(''),
  ).join('-')
}

/** A random 256-bit token for a session cookie. */
export function makeToken(): string {
  return randomBytes(32).toString('base64url')
}

/** The only form in which codes and tokens are stored. */
export function hashSecret(secret: string): string {
  return createHash('sha256').update(secret).digest('base64url')
}

/** As people type it: small letters, spaces for dashes, O for 0, I or L for 1. */
export function hashCode(typed: string): string {
  const plain = typed
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, '')
    .replaceAll('O', '0')
    .replace(/[IL]/g, '1')
  return hashSecret(plain)
}

/** Compares in the same time wherever they differ; nothing stored never matches. */
export function isSameHash(hash: string, stored: string | null): boolean {
  const [a, b] = [Buffer.from(hash), Buffer.from(stored ?? hashSecret(''))]
  return a.length === b.length && timingSafeEqual(a, b) && stored !== null
}
