import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto'
import type { NotifyMemory } from './notifyMemory.ts'

/** Makes and reads the part of a link that acknowledges: DELIVERY.EXPIRY.SIGNATURE. */
export interface AckLinks {
  token(delivery: string, expiresAt: number): string
  /** The delivery, or why the token is worth nothing. Whether it was used already is known to the outbox. */
  read(token: string, now: number): { delivery: string } | { refused: 'forged' | 'expired' }
}

/** 128 bits of HMAC-SHA256 (RFC 2104 allows half of the output at least). */
const SIGNATURE_BYTES = 16
const TOKEN = /^(hr_[\w-]{27})\.([0-9a-z]{1,12})\.([\w-]{22})$/

/** The key is made once and kept in the state file; who has that file can acknowledge anyway. */
export function createAckLinks(memory: NotifyMemory): AckLinks {
  const stored = memory.get<string>('linkKey') ?? randomBytes(32).toString('base64')
  memory.set('linkKey', stored)
  const key = Buffer.from(stored, 'base64')
  const sign = (delivery: string, expiry: string) =>
    createHmac('sha256', key)
      .update(`acknowledge.${delivery}.${expiry}`)
      .digest()
      .subarray(0, SIGNATURE_BYTES)
  return {
    token(delivery, expiresAt) {
      const expiry = Math.ceil(expiresAt).toString(36)
      return `${delivery}.${expiry}.${sign(delivery, expiry).toString('base64url')}`
    },
    read(token, now) {
      const [, delivery, expiry, signature] = TOKEN.exec(token) ?? []
      if (!delivery || !expiry || !signature) return { refused: 'forged' }
      const bytes = Buffer.from(signature, 'base64url')
      // The last letter has bits to spare: only one way of writing a signature counts.
      const isPlain = bytes.toString('base64url') === signature
      if (!isPlain || bytes.length !== SIGNATURE_BYTES || !timingSafeEqual(bytes, sign(delivery, expiry)))
        return { refused: 'forged' }
      return Number.parseInt(expiry, 36) < now ? { refused: 'expired' } : { delivery }
    },
  }
}
