import type { Duplex } from 'node:stream'
import type { Client } from 'aedes'
import type { Clock } from '../../clock.ts'
import type { SparseLog } from '../../sparseLog.ts'
import type { EmbeddedSettings } from './embeddedOptions.ts'

/** Bytes that may wait for one client, as multiples of `maxBacklogBytes`, before the library waits for it. */
const PATIENCE = 4

export interface SlowReadersOptions {
  clock: Clock
  settings: Pick<EmbeddedSettings, 'maxBacklogBytes' | 'drainTimeoutMs'>
  log: SparseLog
  /** Called for each message that is left out for a client. */
  onLeftOut: () => void
  /** How a client is called in the log. */
  nameOf: (client: Client) => string
}

/**
 * Keeps a client that does not read from holding up the others. aedes hands a sensor's next packet on only when all
 * subscribers have taken the one before, so that a sleeping laptop would hold back the over-speed reading behind it
 * for as long as `drainTimeoutMs`.
 *
 * Here, live messages are left out for a client that has more than `maxBacklogBytes` to read, and it is cut off when
 * it has not caught up after `drainTimeoutMs`. Retained messages, sent once on subscribing, are not left out.
 *
 * @returns whether this live message may be sent to this client.
 */
export function createSlowReaders({ clock, settings, log, onLeftOut, nameOf }: SlowReadersOptions) {
  const { maxBacklogBytes, drainTimeoutMs } = settings
  /** Since when each has been behind; until it has read all. */
  const behindSince = new WeakMap<object, number>()

  return (client: Client): boolean => {
    const { conn } = client
    if (conn.writableLength <= maxBacklogBytes) return true
    onLeftOut()
    const since = behindSince.get(conn)
    if (since === undefined) {
      behindSince.set(conn, clock.mono())
      conn.once('drain', () => behindSince.delete(conn))
      log('slow', `broker: ${nameOf(client)} reads too slowly; messages are left out for it`)
    } else if (clock.mono() - since >= drainTimeoutMs) {
      log('drain', `broker: ${nameOf(client)} did not read and was cut off`)
      conn.destroy()
    }
    return false
  }
}

/**
 * Makes the library wait for a client only when far more than a backlog lies ready for it: that is left to what is
 * not asked above, which is answers to its own packets and retained messages.
 */
export function writePatiently(socket: Duplex, maxBacklogBytes: number): void {
  const write = socket.write.bind(socket) as (...all: unknown[]) => boolean
  socket.write = (...all: unknown[]) => write(...all) || socket.writableLength <= PATIENCE * maxBacklogBytes
}
