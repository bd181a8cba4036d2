import type { ChannelSetting } from '../settings.ts'
import type { Channel } from './channel.ts'
import type { ChannelTools } from './channelTools.ts'
import { payloadOf } from './webhook.ts'

type MqttSetting = Extract<ChannelSetting, { kind: 'mqtt' }>

/**
 * headrace/PLANT/notifications, or headrace/notifications for what belongs to no plant; not retained. A broker tells
 * nobody whether somebody listens, so this channel proves nothing.
 */
export function mqttChannel({ id }: MqttSetting, { broker }: ChannelTools): Channel {
  return {
    id,
    kind: 'mqtt',
    lanes: 8,
    provenBy: 'nothing',
    describe: () => 'headrace/…/notifications',
    target: 'broker',
    async send(message) {
      const { connected, detail } = broker.status()
      if (!connected)
        return { result: 'retry', reason: `the broker is not connected${detail ? `: ${detail}` : ''}` }
      const topic =
        message.plant === null ? 'headrace/notifications' : `headrace/${message.plant}/notifications`
      broker.publish(topic, JSON.stringify(payloadOf(message)))
      return { result: 'sent' }
    },
  }
}
