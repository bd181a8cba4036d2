import type { ChannelSetting } from '../settings.ts'
import type { Channel, Outgoing } from './channel.ts'
import type { ChannelTools } from './channelTools.ts'
import { postOnce } from './httpOutcome.ts'
import { readWebhookSecret, signWebhook } from './webhookSignature.ts'

/** The specification recommends 15 to 30 s. */
const ANSWER_LIMIT_MS = 15_000

type WebhookSetting = Extract<ChannelSetting, { kind: 'webhook' }>

/** A signed POST by the Standard Webhooks specification, to another program or a gateway for text messages. */
export function webhookChannel(
  { id, url }: WebhookSetting,
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
        'webhook-id': message.id,
        'webhook-timestamp': String(timestamp),
        'webhook-signature': signWebhook(key, { id: message.id, timestamp, body }),
      }
      return postOnce(url, { headers, body, limitMs: answerLimitMs, now: now() })
    },
  }
}

/** What other programs get, also over MQTT: type, time and data as the Standard Webhooks specification advises. */
export function payloadOf(message: Outgoing): object {
  const { id, kind, priority, plant, alarm, recipient, step, short, text, acknowledgeUrl, pageUrl } = message
  return {
    type: `alarm.${kind}`,
    timestamp: new Date(message.createdAt).toISOString(),
    data: {
      id,
      plant,
      alarm,
      priority,
      step,
      recipient: recipient.name,
      short,
      text,
      ...(acknowledgeUrl === undefined ? {} : { acknowledgeUrl }),
      ...(pageUrl === undefined ? {} : { pageUrl }),
    },
  }
}
