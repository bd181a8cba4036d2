import { createHmac } from 'node:crypto'
import { z } from 'zod'
import { idField } from '../../../plant/fields.ts'
import type { Channel, ChannelTools, Outgoing } from './channel.ts'
import { postOnce, webAddress } from './httpPost.ts'

/** The specification recommends 15 to 30 s. */
const ANSWER_LIMIT_MS = 15_000
/** The least that the specification allows. */
const SHORTEST_KEY_BYTES = 24

export const webhookFields = z.strictObject({ id: idField, kind: z.literal('webhook'), url: webAddress })

/** A signed POST by the Standard Webhooks specification, to another program or a gateway for text messages. */
export function webhookChannel(
  { id, url }: z.output<typeof webhookFields>,
  { secret, now, answerLimitMs = ANSWER_LIMIT_MS }: ChannelTools,
): Channel | { fault: string } {
  const key = readWebhookSecret(secret ?? '')
  if (!key)
    return {
      fault: `the webhook "${id}" needs a secret: "whsec_" and base64 of 24 to 64 random bytes, as the receiver knows it`,
    }
  return {
    id,
    kind: 'webhook',
    lanes: 4,
    provenBy: 'answer',
    describe: () => new URL(url).origin,
    target: url,
    send(message) {
      const body = JSON.stringify(payloadOf(message))
      const timestamp = Math.floor(now() / 1000)
      const headers = {
        'content-type': 'application/json',
        'webhook-id': message.delivery.id,
        'webhook-timestamp': String(timestamp),
        'webhook-signature': signWebhook(key, { id: message.delivery.id, timestamp, body }),
      }
      return postOnce(url, { headers, body, limitMs: answerLimitMs, now: now() })
    },
  }
}

/** What other programs get, also over MQTT: type, time and data as the Standard Webhooks specification advises. */
export function payloadOf({ delivery, recipient, text, acknowledgeUrl, pageUrl }: Outgoing): object {
  const { id, incident, kind, priority, plant, alarm, step, createdAt, message } = delivery
  return {
    type: `alarm.${kind}`,
    timestamp: new Date(createdAt).toISOString(),
    data: {
      id,
      // The same for all that is told of one event: a later one takes the place of an earlier one.
      incident,
      plant,
      alarm,
      priority,
      step,
      recipient: recipient.name,
      short: message.short,
      text,
      ...(acknowledgeUrl === undefined ? {} : { acknowledgeUrl }),
      ...(pageUrl === undefined ? {} : { pageUrl }),
    },
  }
}

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
