import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Snapshot } from '../../server/wire/plant.ts'
import type { HealthReply } from '../../server/wire/replies.ts'
import { type Mosquitto, startMosquitto } from '../support/mosquitto.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

describe('a server whose broker goes away', () => {
  const scratch = scratchFolder()
  let broker: Mosquitto
  let server: ServerProcess

  beforeAll(async () => {
    broker = await startMosquitto()
    const plant = scratch.file('mill.yaml', THREE_SENSORS)
    server = await startServer([
      '--plant',
      plant,
      '--mqtt-url',
      broker.url,
      '--data',
      scratch.path,
      '--http-port',
      '0',
    ])
  })

  afterAll(async () => {
    await server.stop()
    await broker.close()
    scratch.remove()
  })

  const live = () => getJson<Snapshot>(`${server.url}/api/plants/mill/live`)
  const health = () => getJson<HealthReply>(`${server.url}/api/health`)
  const received = async () => (await health()).topics.find((one) => one.topic === 'mill/flow')!.received

  it('says so within 2 s, comes back by itself, and counts nothing twice', async () => {
    await until(live, (snapshot) => snapshot.source.connected)
    const first = await connectPublisher(broker.url)
    await first.publishAsync('mill/flow', '12', { retain: true })
    await until(received, (count) => count === 1)
    await first.endAsync(true)
    await broker.kill()
    const gone = await until(live, (snapshot) => !snapshot.source.connected, 2000)
    expect(gone.source.detail).toBeTruthy()
    await broker.restart()
    await until(live, (snapshot) => snapshot.source.connected, 35_000)
    const second = await connectPublisher(broker.url)
    await second.publishAsync('mill/flow', '12.5')
    await until(received, (count) => count === 2)
    await second.endAsync(true)
    const discharge = (await live()).plant.figures.findIndex((figure) => figure.id === 'discharge')
    await until(live, (snapshot) => snapshot.values[discharge]!.value === 0.0125)
  })
})
