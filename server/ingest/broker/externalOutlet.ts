import type { BrokerCounters } from './broker.ts'
import type { Outgoing, Session } from './externalSession.ts'

/** Messages handed to the connection and not yet written out; the rest waits in the queue. */
const MOST_IN_FLIGHT = 100

/** Own publishes: they wait, within limits, while the broker is away or does not read. */
export interface Outlet {
  add(message: Outgoing): void
  /** Sends what waits. */
  useSession(session: Session): void
  /** What was in flight is lost and counted. */
  lostSession(): void
  /** Waiting or in flight. */
  waiting(): number
  /** Resolves when all is written out. */
  idle(): Promise<void>
  /** Drops and counts all that is not written out. */
  giveUp(): void
}

interface Flow {
  queue: PublishQueue
  counters: BrokerCounters
  session: Session | undefined
  inFlight: number
  whenIdle: () => void
}

export function createOutlet(counters: BrokerCounters, limit: number): Outlet {
  const queue = createPublishQueue(limit, () => counters.publishDropped++)
  const flow: Flow = { queue, counters, session: undefined, inFlight: 0, whenIdle: () => {} }

  function lostSession(): void {
    counters.publishDropped += flow.inFlight
    flow.inFlight = 0
    flow.session = undefined
  }

  return {
    add(message) {
      queue.add(message)
      pump(flow)
    },
    useSession(next) {
      flow.session = next
      pump(flow)
    },
    waiting: () => queue.size() + flow.inFlight,
    lostSession,
    giveUp() {
      lostSession()
      queue.clear()
    },
    idle: () =>
      new Promise((resolve) => {
        flow.whenIdle = resolve
        pump(flow)
      }),
  }
}

/** Hands over what waits, as far as the session keeps up. */
function pump(flow: Flow): void {
  const { queue, counters, session } = flow
  while (session && flow.inFlight < MOST_IN_FLIGHT) {
    const message = queue.take()
    if (!message) break
    flow.inFlight++
    counters.published++
    session.publish(message, () => {
      if (session !== flow.session) return
      flow.inFlight--
      pump(flow)
    })
  }
  if (flow.inFlight === 0 && queue.size() === 0) flow.whenIdle()
}

/**
 * Own messages that wait for the broker: at most `limit`. A newer retained message takes the place of an older one
 * for the same topic, since the broker would keep only the last; beyond the limit the oldest is dropped.
 *
 * @param onDropped called once per message that is given up.
 */
export function createPublishQueue(limit: number, onDropped: () => void) {
  const waiting = new Map<string, Outgoing>()
  let sequence = 0
  return {
    add(message: Outgoing): void {
      const key = message.retain ? `r ${message.topic}` : `n ${sequence++}`
      waiting.delete(key)
      if (waiting.size >= limit) {
        waiting.delete(waiting.keys().next().value!)
        onDropped()
      }
      waiting.set(key, message)
    },
    /** The oldest, removed; undefined when empty. */
    take(): Outgoing | undefined {
      const first = waiting.entries().next()
      if (first.done) return undefined
      waiting.delete(first.value[0])
      return first.value[1]
    },
    size: () => waiting.size,
    /** Gives up what waits. */
    clear(): void {
      for (let left = waiting.size; left > 0; left--) onDropped()
      waiting.clear()
    },
  }
}

type PublishQueue = ReturnType<typeof createPublishQueue>
