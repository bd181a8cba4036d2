import type { Broker, Message } from './broker.ts'
import { createBrokerCounters } from './counters.ts'
import {
  type ExternalBrokerOptions,
  readAddress,
  readTlsFiles,
  type TlsFiles,
  withDefaults,
} from './externalOptions.ts'
import { openSession, type Session } from './externalSession.ts'
import { createListeners } from './listeners.ts'
import { createPacketGuard } from './packetGuard.ts'
import { createPublishQueue } from './publishQueue.ts'
import { settleWithin } from './settleWithin.ts'
import { createSparseLog } from './sparseLog.ts'
import { createStatusBoard } from './statusBoard.ts'
import { createFilterSet } from './topicFilter.ts'

const CLOSE_LIMIT_MS = 2000

export type { ExternalBrokerOptions }

/**
 * A broker somewhere else, through one MQTT 3.1.1 connection that is made again for ever, with a growing pause of
 * random length. Every attempt is a new session with a new client id, so nothing old is delivered late as new.
 *
 * `start` returns at once, connected or not; it rejects only where no attempt could ever succeed (address, files).
 */
export function createExternalBroker(options: ExternalBrokerOptions): Broker {
  const settings = withDefaults(options)
  const { clock, random } = settings
  const address = readAddress(settings)
  const log = createSparseLog(settings.log, clock)
  const counters = createBrokerCounters()
  const messages = createListeners<Message>()
  const status = createStatusBoard(clock, () => address.name)
  const filters = createFilterSet()
  const queue = createPublishQueue(settings.maxQueuedPublishes, () => {
    counters.publishDropped++
  })
  const guard = () =>
    createPacketGuard(settings.maxPacketBytes, ({ bytes, topic }) => {
      counters.oversize++
      log(
        'oversize',
        `broker: a packet of ${bytes} bytes${topic ? ` on "${topic}"` : ''} was left out; the limit is ${settings.maxPacketBytes}`,
      )
    })
  let session: Session | undefined
  let tls: TlsFiles = {}
  let isClosed = false
  let failures = 0
  let cancelTimer = () => {}

  function attempt(): void {
    cancelTimer()
    session = openSession({
      address,
      tls,
      settings,
      clientId: `${settings.clientIdPrefix}-${Math.floor(random() * 2 ** 40).toString(36)}`,
      guard: guard(),
      onConnected: connected,
      onClosed: closed,
      onMessage: deliver,
      onRefused: (refused) => log('refused', `broker: ${address.name} does not grant ${refused.join(', ')}`),
    })
    // A connection that is neither up nor over would wait for ever.
    cancelTimer = clock.after(settings.watchdogMs, () => {
      session?.abandon()
      closed('the attempt did not come to an end')
    })
  }

  function connected(): void {
    cancelTimer()
    failures = 0
    session?.subscribe(filters.minimal())
    status.set(true)
    sendWaiting()
  }

  function closed(fault: string): void {
    cancelTimer()
    session = undefined
    if (isClosed) return
    if (status.get().connected) counters.reconnects++
    status.set(false, fault)
    log('closed', `broker: ${address.name}: ${fault}`)
    const longest = Math.min(settings.reconnectMaxMs, settings.reconnectMinMs * 2 ** Math.min(failures, 20))
    failures++
    cancelTimer = clock.after(longest * (0.5 + random() / 2), attempt)
  }

  function deliver(topic: string, payload: Uint8Array, retained: boolean): void {
    counters.received++
    counters.receivedBytes += payload.byteLength
    messages.call({ topic, payload, retained, receivedAt: clock.now() })
  }

  function sendWaiting(): void {
    for (let next = queue.take(); next && session; next = queue.take()) {
      session.publish(next, () => {
        counters.published++
      })
    }
  }

  return {
    async start() {
      tls = await readTlsFiles(settings)
      attempt()
    },
    subscribe(added) {
      filters.add(added)
      if (status.get().connected) session?.subscribe(filters.minimal())
    },
    onMessage: messages.add,
    onStatus: status.onChange,
    publish(topic, payload, { retain = false } = {}) {
      queue.add({ topic, payload, retain })
      if (status.get().connected) sendWaiting()
    },
    status: status.get,
    counters: () => ({ ...counters }),
    async close() {
      isClosed = true
      cancelTimer()
      if (session) await settleWithin(clock, CLOSE_LIMIT_MS, session.end())
      session?.abandon()
      queue.clear()
      status.set(false, 'the connection was closed')
    },
  }
}
