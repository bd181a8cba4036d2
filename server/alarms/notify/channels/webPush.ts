import webpush from 'web-push'
import type { ChannelSetting } from '../settings.ts'
import type { Subscription } from '../subscriptions.ts'
import type { Channel, Outcome, Outgoing } from './channel.ts'
import type { ChannelTools } from './channelTools.ts'
import { postOnce } from './httpOutcome.ts'

const ANSWER_LIMIT_MS = 15_000
/** A push service keeps a message this long [s] for a browser that is off. */
const KEPT_S = 4 * 3600

type WebPushSetting = Extract<ChannelSetting, { kind: 'webPush' }>

/**
 * A message on the screen of a browser, through the push service of its maker (RFC 8030, encrypted by RFC 8291). It
 * needs the internet and a page under https or localhost; e-mail, webhook and MQTT come first.
 */
export function webPushChannel({ id, contact }: WebPushSetting, tools: ChannelTools): Channel {
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
        return { result: 'failed', reason: `no browser of ${name} is registered for messages` }
      const outcomes = await Promise.all(
        browsers.map((browser) => push(browser, message, { contact, tools })),
      )
      outcomes.forEach((outcome, i) => {
        // 404 and 410: the person took the permission back.
        if (isGone(outcome)) subscriptions.remove(recipient, browsers[i]!.endpoint)
      })
      return together(outcomes)
    },
  }
}

function isGone(outcome: Outcome): boolean {
  return outcome.result === 'failed' || (outcome.result === 'retry' && / 404$/.test(outcome.reason))
}

/** One browser that took it is enough; only where none did is it tried again. */
function together(outcomes: readonly Outcome[]): Outcome {
  const sent = outcomes.find((one) => one.result === 'sent')
  const retry = outcomes.find((one) => one.result === 'retry' && !isGone(one))
  return sent ?? retry ?? { result: 'failed', reason: 'every registered browser is gone' }
}

async function push(
  browser: Subscription,
  message: Outgoing,
  { contact, tools }: { contact: string; tools: ChannelTools },
): Promise<Outcome> {
  const payload = JSON.stringify({
    id: message.id,
    title: message.short,
    url: message.acknowledgeUrl ?? message.pageUrl,
    isUrgent: message.priority === 'high',
  })
  const details = webpush.generateRequestDetails(browser, payload, {
    vapidDetails: { subject: contact, ...tools.subscriptions.serverKeys() },
    TTL: KEPT_S,
    urgency: message.priority === 'high' ? 'high' : 'normal',
  })
  const { 'Content-Length': _length, ...headers } = details.headers as Record<string, string>
  return postOnce(browser.endpoint, {
    headers: Object.fromEntries(Object.entries(headers).map(([key, value]) => [key, String(value)])),
    body: new Uint8Array(details.body ?? []),
    limitMs: tools.answerLimitMs ?? ANSWER_LIMIT_MS,
    now: tools.now(),
  })
}

export function makePushKeys(): { publicKey: string; privateKey: string } {
  return webpush.generateVAPIDKeys()
}
