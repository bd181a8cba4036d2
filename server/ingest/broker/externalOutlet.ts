import type { BrokerCounters } from './broker.ts'
import type { Session } from './externalSession.ts'
import { createPublishQueue, type Outgoing } from './publishQueue.ts'

/** Messages handed to the connection and not yet written out; the rest waits in the queue. */
const MOST_IN_FLIGHT = 100

/** Own publishes: they wait, within limits, while the broker is away or does not read. */
export interface Outlet {
  add(message: Outgoing): void
  /** Sends what waits. */
  useSession(session: Session): void
  /** What was in flight is lost and counted. */
  lostSession(): void
  /** Resolves when all is written out. */
  idle(): Promise<void>
  /** Gives up what waits. */
  clear(): void
}

export function createOutlet(counters: BrokerCounters, limit: number): Outlet {
  const queue = createPublishQueue(limit, () => counters.publishDropped++)
  let session: Session | undefined
  let inFlight = 0
  let whenIdle: (() => void) | undefined

  function pump(): void {
    const current = session
    while (current && inFlight < MOST_IN_FLIGHT) {
      const message = queue.take()
      if (!message) break
      inFlight++
      counters.published++
      current.publish(message, () => {
        if (current !== session) return
        inFlight--
        pump()
      })
    }
    if (inFlight === 0 && queue.size() === 0) whenIdle?.()
  }

  return {
    add(message) {
      queue.add(message)
      pump()
    },
    useSession(next) {
      session = next
      pump()
    },
    lostSession() {
      counters.publishDropped += inFlight
      inFlight = 0
      session = undefined
    },
    idle: () =>
      new Promise((resolve) => {
        whenIdle = resolve
        pump()
      }),
    clear: queue.clear,
  }
}
