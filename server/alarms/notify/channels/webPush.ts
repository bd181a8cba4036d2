import webpush from 'web-push'
import { z } from 'zod'
import { idField } from '../../../plant/fields.ts'
import type { Subscription } from '../subscriptions.ts'
import type { Channel, ChannelTools, Outgoing, SendResult } from './channel.ts'
import { postToInternet } from './publicPost.ts'

const ANSWER_LIMIT_MS = 15_000
/** A push service keeps a message this long [s] for a browser that is off. */
const KEPT_S = 4 * 3600

export const webPushFields = z.strictObject({
  id: idField,
  kind: z.literal('webPush'),
  /** Whom the push service may write to. */
  contact: z.string().regex(/^(mailto:.+@.+|https:\/\/.+)$/, { error: 'expected "mailto:…" or "https://…"' }),
})

/**
 * A message on the screen of a browser, through the push service of its maker (RFC 8030, encrypted by RFC 8291). It
 * needs the internet and a page under https or localhost; e-mail, webhook and MQTT come first.
 */
export function webPushChannel(
  { id, contact }: z.output<typeof webPushFields>,
  tools: ChannelTools,
): Channel {
  const { subscriptions } = tools
  return {
    id,
    kind: 'webPush',
    lanes: 4,
    provenBy: 'person',
    describe: () => 'browsers of this recipient',
    target: contact,
    async send(message) {
      const { id: recipient, name } = message.recipient
      const browsers = subscriptions.of(recipient)
      if (browsers.length === 0)
        return { status: 'failed', reason: `no browser of ${name} is registered for messages` }
      const results = await Promise.all(browsers.map((browser) => push(browser, message, { contact, tools })))
      results.forEach((result, i) => {
        // 404 and 410: the person took the permission back.
        if (isGone(result)) subscriptions.remove(recipient, browsers[i]!.endpoint)
      })
      return together(results)
    },
  }
}

function isGone(result: SendResult): boolean {
  return result.status === 'failed' || (result.status === 'retry' && / 404$/.test(result.reason))
}

/** One browser that took it is enough; only where none did is it tried again. */
function together(results: readonly SendResult[]): SendResult {
  const sent = results.find((one) => one.status === 'sent')
  const retry = results.find((one) => one.status === 'retry' && !isGone(one))
  return sent ?? retry ?? { status: 'failed', reason: 'every registered browser is gone' }
}

async function push(
  browser: Subscription,
  { delivery, acknowledgeUrl, pageUrl }: Outgoing,
  { contact, tools }: { contact: string; tools: ChannelTools },
): Promise<SendResult> {
  const payload = JSON.stringify({
    // A browser shows one of these at a time: the later one takes the place of the earlier one.
    incident: delivery.incident,
    title: delivery.message.short,
    url: acknowledgeUrl ?? pageUrl,
    isUrgent: delivery.priority === 'high',
  })
  const details = webpush.generateRequestDetails(browser, payload, {
    vapidDetails: { subject: contact, ...tools.subscriptions.serverKeys() },
    TTL: KEPT_S,
    urgency: delivery.priority === 'high' ? 'high' : 'normal',
  })
  const { 'Content-Length': _length, ...headers } = details.headers as Record<string, string>
  const post = tools.postToBrowser ?? postToInternet
  return post(browser.endpoint, {
    headers: Object.fromEntries(Object.entries(headers).map(([key, value]) => [key, String(value)])),
    body: new Uint8Array(details.body ?? []),
    limitMs: tools.answerLimitMs ?? ANSWER_LIMIT_MS,
    now: tools.now(),
  })
}
