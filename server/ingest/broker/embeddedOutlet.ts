import type { Aedes } from 'aedes'
import type { Broker, BrokerCounters } from './broker.ts'
import type { Intake } from './embeddedIntake.ts'

/** Own publishes on their way to the clients of the embedded broker: at most `limit`, then dropped and counted. */
export function createOutlet({ intake, counters, limit }: OutletOptions) {
  let pending = 0
  let whenIdle: (() => void) | undefined
  const sent = () => {
    pending--
    if (pending === 0) whenIdle?.()
  }
  const publish = (aedes: Aedes | undefined, ...[topic, text, options]: Parameters<Broker['publish']>) => {
    if (!aedes || pending >= limit) {
      counters.publishDropped++
      return
    }
    pending++
    counters.published++
    const payload = Buffer.from(text)
    if (options?.retain && intake.keepRetained(topic, payload)) storeRetained(aedes, topic, payload)
    aedes.publish({ cmd: 'publish', topic, payload, qos: 0, retain: false, dup: false }, sent)
  }
  const waiting = () => pending
  /** Resolves when nothing is on its way. */
  const idle = () =>
    new Promise<void>((resolve) => {
      whenIdle = resolve
      if (pending === 0) resolve()
    })
  return { publish, idle, waiting }
}

interface OutletOptions {
  intake: Intake
  counters: BrokerCounters
  limit: number
}

/** The part of the library's store that is used here. Not in the package's types, so it is said here once. */
interface RetainedStore {
  storeRetained(packet: object): Promise<unknown>
}

/**
 * Keeps a message for those who subscribe later, sent with QoS 0 then; the live message is then sent without the retain flag.
 *
 * aedes itself stores first and sends a turn later. The next message overtakes it meanwhile, and whoever subscribes
 * to both never gets the first one: aedes takes what comes out of order for a repetition.
 */
export function storeRetained(aedes: Aedes, topic: string, payload: Buffer): void {
  const { persistence } = aedes as unknown as { persistence: RetainedStore }
  persistence
    .storeRetained({ cmd: 'publish', topic, payload, qos: 0, retain: true, dup: false })
    .catch((error: Error) => aedes.emit('error', error))
}
