import type { Aedes } from 'aedes'

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
