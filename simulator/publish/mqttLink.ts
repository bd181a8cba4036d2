import { connect } from 'mqtt'
import type { OutMessage } from './encode.ts'

export interface LinkOptions {
  url: string
  /** Command topics. */
  topics: readonly string[]
  onCommand: (topic: string, payload: string) => void
  onConnect: () => void
  /** One sentence whenever the state of the connection changes. */
  report: (sentence: string) => void
}

/** Bytes waiting in the socket above which messages are dropped, newest first. */
const HIGHEST_BACKLOG = 1_000_000
const RETRY_MS = 1000

/**
 * Connection to a broker that comes back by itself. Everything goes with QoS 0: measurements are worth nothing late, and contacts are sent again after every
 * connection. A closed connection is tried again for ever.
 */
export function createMqttLink({ url, topics, onCommand, onConnect, report }: LinkOptions) {
  let published = 0
  let dropped = 0
  let isDown = false
  const name = withoutCredentials(url)
  const client = connect(url, {
    manualConnect: true,
    clientId: `headrace-simulator-${process.pid}-${Math.random().toString(36).slice(2, 8)}`,
    clean: true,
    reconnectPeriod: RETRY_MS,
    connectTimeout: 10_000,
    queueQoSZero: false,
  })
  client.on('message', (topic, payload) => onCommand(topic, payload.toString('utf8')))
  client.on('connect', () => {
    isDown = false
    report(`Connected to ${name}.`)
    if (topics.length > 0) client.subscribe([...topics], { qos: 0 })
    onConnect()
  })
  const noteDown = (reason: string) => {
    if (isDown) return
    isDown = true
    report(`Not connected to ${name}${reason}; trying again every ${RETRY_MS / 1000} s.`)
  }
  client.on('error', (error) => noteDown(`: ${error.message || error.name}`))
  client.on('close', () => noteDown(''))
  client.connect()
  return {
    /** Sends, or drops and counts where the broker is away or does not take more. */
    publish({ topic, payload, retain }: OutMessage): void {
      if (!client.connected || client.stream.writableLength > HIGHEST_BACKLOG) {
        dropped++
        return
      }
      published++
      client.publish(topic, payload, { qos: 0, retain })
    },
    counters: () => ({ published, dropped }),
    async close(): Promise<void> {
      isDown = true
      await client.endAsync(!client.connected)
    },
  }
}

function withoutCredentials(url: string): string {
  const parsed = new URL(url)
  return `${parsed.protocol}//${parsed.host}`
}
