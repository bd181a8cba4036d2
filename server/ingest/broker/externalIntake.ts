import type { Clock } from '../../clock.ts'
import type { BrokerCounters, Message } from './broker.ts'
import { createListeners } from './listeners.ts'

const DOLLAR = 36

/** Messages of the external broker on their way to this process. */
export function createIntake(clock: Clock, counters: BrokerCounters) {
  const messages = createListeners<Message>()
  return {
    onMessage: messages.add,
    take(topic: string, payload: Uint8Array, retained: boolean): void {
      if (topic.charCodeAt(0) === DOLLAR) return
      counters.received++
      counters.receivedBytes += payload.length
      messages.call({ topic, payload, retained, receivedAt: clock.now() })
    },
  }
}

export type Intake = ReturnType<typeof createIntake>
