import { describe } from 'vitest'
import { systemClock } from '../../server/clock.ts'
import { createEmbeddedBroker } from '../../server/ingest/broker/embedded.ts'
import { itIsABroker } from './broker.ts'

describe('the embedded broker', () => {
  itIsABroker(async () => {
    const broker = createEmbeddedBroker({ clock: systemClock, port: 0 })
    return { broker, port: broker.port, cleanUp: async () => {} }
  })
})
