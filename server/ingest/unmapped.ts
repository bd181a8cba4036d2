import type { HealthReply } from '../wire/replies.ts'
import { exampleOf } from './formats/payloadText.ts'

type Unmapped = HealthReply['unmapped'][number]

const MOST_TOPICS = 200
const LONGEST_TOPIC = 256

/** Topics that belong to no instrument: listed up to a limit, so that a flood of topics costs no memory. */
export interface UnmappedTopics {
  note(topic: string, payload: Uint8Array, at: number): void
  list(): Unmapped[]
  /** Messages on topics that the list has no room for. */
  dropped(): number
}

export function createUnmappedTopics(): UnmappedTopics {
  const topics = new Map<string, Unmapped>()
  let dropped = 0
  return {
    note(topic, payload, at) {
      const name = topic.slice(0, LONGEST_TOPIC)
      const known = topics.get(name)
      if (known) {
        known.received++
        known.lastReceivedAt = at
      } else if (topics.size < MOST_TOPICS) {
        topics.set(name, { topic: name, received: 1, example: exampleOf(payload), lastReceivedAt: at })
      } else dropped++
    },
    list: () => [...topics.values()],
    dropped: () => dropped,
  }
}
