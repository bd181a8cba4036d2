import type { ChannelSetting } from '../settings.ts'
import type { Channel } from './channel.ts'
import type { ChannelTools } from './channelTools.ts'
import { emailChannel } from './email.ts'
import { mqttChannel } from './mqtt.ts'
import { webhookChannel } from './webhook.ts'
import { webPushChannel } from './webPush.ts'

/** @returns the channel, or what it lacks in one sentence. */
export function openChannel(setting: ChannelSetting, tools: ChannelTools): Channel | { fault: string } {
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
