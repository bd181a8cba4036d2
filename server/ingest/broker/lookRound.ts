import type { Clock } from '../../clock.ts'
import { createListeners } from '../../listeners.ts'
import type { Broker, Message } from './broker.ts'

/** After the start, or when other topics are asked for [ms]: readings come first. */
const FIRST_MS = 5000
/** A look takes so long [ms], or so many messages. */
const LOOK_MS = 10_000
const MOST_MESSAGES = 2000
/** From the end of one look to the next [ms]. */
const PAUSE_MS = 10 * 60_000

/** Now and then everything that is sent to a broker, for the list of topics that no plant file knows. */
export interface LookRound {
  onMessage(listener: (message: Message) => void): () => void
  /** Looks soon. */
  look(): void
  close(): Promise<void>
}

/**
 * A broker of somebody else may carry far more than a plant: it is asked for all of it only for ten seconds every ten
 * minutes, over a connection of its own that has no part in the readings, and at most 2000 messages are taken.
 *
 * @param open A connection that is not started yet.
 */
export function createLookRound(
  clock: Clock,
  open: () => Pick<Broker, 'start' | 'subscribe' | 'onMessage' | 'close'>,
): LookRound {
  const messages = createListeners<Message>()
  let cancel: (() => void) | undefined
  let finish: (() => Promise<void>) | undefined
  let isClosed = false

  function plan(delayMs: number): void {
    cancel?.()
    cancel = isClosed ? undefined : clock.after(delayMs, begin)
  }

  function begin(): void {
    const connection = open()
    let left = MOST_MESSAGES
    const stopTimer = clock.after(LOOK_MS, end)
    function end(): Promise<void> {
      if (finish !== end) return Promise.resolve()
      finish = undefined
      stopTimer()
      stopListening()
      plan(PAUSE_MS)
      return connection.close()
    }
    const stopListening = connection.onMessage((message) => {
      messages.call(message)
      if (--left === 0) void end()
    })
    finish = end
    connection.subscribe(['#'])
    // an address that is none was refused by the connections for readings already
    connection.start().catch(end)
  }

  return {
    onMessage: messages.add,
    look() {
      if (!finish) plan(FIRST_MS)
    },
    async close() {
      isClosed = true
      cancel?.()
      await finish?.()
    },
  }
}
