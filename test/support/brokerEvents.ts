import mqtt, { type MqttClient } from 'mqtt'
import type { Broker, BrokerStatus, Message } from '../../server/ingest/broker/broker.ts'

/** Resolves with the first message that fits; list the expectation before what causes it. */
export function messageOf(broker: Broker, topic: string): Promise<Message> {
  return new Promise((resolve) => {
    const stop = broker.onMessage((message) => {
      if (message.topic !== topic) return
      stop()
      resolve(message)
    })
  })
}

/** Resolves with the first status that fits, the present one included. */
export function statusOf(broker: Broker, fits: (status: BrokerStatus) => boolean): Promise<BrokerStatus> {
  if (fits(broker.status())) return Promise.resolve(broker.status())
  return new Promise((resolve) => {
    const stop = broker.onStatus((status) => {
      if (!fits(status)) return
      stop()
      resolve(status)
    })
  })
}

export const isConnected = (status: BrokerStatus) => status.connected
export const isLost = (status: BrokerStatus) => !status.connected

/** Everything from now on, as [topic, text, retained]. */
export function collect(broker: Broker): [topic: string, text: string, retained: boolean][] {
  const all: [string, string, boolean][] = []
  broker.onMessage(({ topic, payload, retained }) =>
    all.push([topic, Buffer.from(payload).toString(), retained]),
  )
  return all
}

/** A sensor's client, connected; `options` as in MQTT.js. */
export function foreignClient(port: number, options: mqtt.IClientOptions = {}): Promise<MqttClient> {
  return mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, { reconnectPeriod: 0, ...options }, false)
}
