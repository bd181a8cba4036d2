import { describe } from 'vitest'
import { systemClock } from '../../server/clock.ts'
import { createExternalBroker, createExternalPair } from '../../server/ingest/broker/external.ts'
import { startMosquitto } from '../support/mosquitto.ts'
import { itIsABroker } from './broker.ts'

describe.each([
  ['an external broker', createExternalBroker],
  ['an external broker over two connections, as the server uses it', createExternalPair],
])('%s', (_name, create) => {
  itIsABroker(async () => {
    const mosquitto = await startMosquitto()
    const broker = create({ clock: systemClock, url: mosquitto.url })
    return { broker, port: () => mosquitto.port, cleanUp: mosquitto.close }
  })
})
