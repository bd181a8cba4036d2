import { z } from 'zod'
import type { Channel, ChannelTools } from './channel.ts'
import { emailChannel, emailFields } from './email.ts'
import { mqttChannel, mqttFields } from './mqtt.ts'
import { webhookChannel, webhookFields } from './webhook.ts'
import { webPushChannel, webPushFields } from './webPush.ts'

/** What the notification file says of a channel. */
export const channelFields = z.discriminatedUnion(
  'kind',
  [emailFields, webhookFields, mqttFields, webPushFields],
  {
    error: 'expected a mapping with "kind: email", "kind: webhook", "kind: mqtt" or "kind: webPush"',
  },
)

/** Whether it cannot be opened without a password or key. */
export function needsSecret(setting: z.output<typeof channelFields>): boolean {
  return setting.kind === 'webhook' || (setting.kind === 'email' && setting.user !== undefined)
}

/** @returns the channel, or what it lacks in one sentence. */
export function openChannel(
  setting: z.output<typeof channelFields>,
  tools: ChannelTools,
): Channel | { fault: string } {
  switch (setting.kind) {
    case 'email':
      return emailChannel(setting, tools)
    case 'webhook':
      return webhookChannel(setting, tools)
    case 'mqtt':
      return mqttChannel(setting, tools)
    case 'webPush':
      return webPushChannel(setting, tools)
  }
}
