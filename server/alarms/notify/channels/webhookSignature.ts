import { createHmac } from 'node:crypto'

/** The least that the specification allows. */
const SHORTEST_KEY_BYTES = 24

export interface SignedContent {
  /** The same on every attempt. */
  id: string
  /** Of this attempt [s since 1970 UTC]. */
  timestamp: number
  /** The very text that is sent. */
  body: string
}

/**
 * Value of the header `webhook-signature`: "v1," and base64 of HMAC-SHA256 over `id.timestamp.body`.
 *
 * Source: Standard Webhooks specification, "Signature scheme"; the test uses its library's own worked value.
 */
export function signWebhook(key: Uint8Array, { id, timestamp, body }: SignedContent): string {
  return `v1,${createHmac('sha256', key).update(`${id}.${timestamp}.${body}`).digest('base64')}`
}

/** "whsec_" and base64 of 24 to 64 bytes → the key; undefined for anything else. */
export function readWebhookSecret(text: string): Uint8Array | undefined {
  const base64 = text.trim().replace(/^whsec_/, '')
  if (!/^[A-Za-z0-9+/]+={0,2}$/.test(base64)) return undefined
  const key = Buffer.from(base64, 'base64')
  return key.length >= SHORTEST_KEY_BYTES && key.length <= 64 ? key : undefined
}
