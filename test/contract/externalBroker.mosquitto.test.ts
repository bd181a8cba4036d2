import { describe } from 'vitest'
import { systemClock } from '../../server/clock.ts'
import { createExternalBroker } from '../../server/ingest/broker/external.ts'
import { startMosquitto } from '../support/mosquitto.ts'
import { itIsABroker } from './broker.ts'

describe('an external broker', () => {
  itIsABroker(async () => {
    const mosquitto = await startMosquitto()
    const broker = createExternalBroker({ clock: systemClock, url: mosquitto.url })
    return { broker, port: () => mosquitto.port, cleanUp: mosquitto.close }
  })
})
