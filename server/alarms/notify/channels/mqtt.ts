import { z } from 'zod'
import { idField } from '../../../plant/fields.ts'
import type { Channel, ChannelTools } from './channel.ts'
import { payloadOf } from './webhook.ts'

/** It takes the broker that the readings come from. */
export const mqttFields = z.strictObject({ id: idField, kind: z.literal('mqtt') })

/**
 * headrace/PLANT/notifications, or headrace/notifications for what belongs to no plant; not retained. A broker tells
 * nobody whether somebody listens, so this channel proves nothing, and as anybody may listen it carries no link that acknowledges.
 */
export function mqttChannel({ id }: z.output<typeof mqttFields>, { broker }: ChannelTools): Channel {
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
        return { status: 'retry', reason: `the broker is not connected${detail ? `: ${detail}` : ''}` }
      const { plant } = message.delivery
      const topic = plant === null ? 'headrace/notifications' : `headrace/${plant}/notifications`
      broker.publish(topic, JSON.stringify(payloadOf(message)))
      return { status: 'sent' }
    },
  }
}
