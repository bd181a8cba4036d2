import { afterAll, expect, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import { createExternalPair } from '../../../../server/ingest/broker/external.ts'
import { createIngest } from '../../../../server/ingest/ingest.ts'
import { foreignClient, isConnected, statusOf } from '../../../support/brokerEvents.ts'
import { startMosquitto } from '../../../support/mosquitto.ts'
import { plantWith } from '../ingestBench.ts'

const ended: (() => Promise<unknown>)[] = []
afterAll(async () => {
  for (const end of ended.splice(0)) await end()
})

it('lists a topic of an external broker that is misspelt in the plant file, and takes no reading twice', async () => {
  const mosquitto = await startMosquitto({})
  ended.push(mosquitto.close)
  // the look begins at once
  const clock: typeof systemClock = {
    ...systemClock,
    after: (ms, task) => systemClock.after(ms === 5000 ? 1 : ms, task),
  }
  const broker = createExternalPair({ clock, url: mosquitto.url })
  const readings: number[] = []
  const ingest = createIngest({
    plants: [plantWith('id: level, topic: mill/level, unit: m')],
    broker,
    clock,
    onReading: ({ value }) => readings.push(value),
  })
  await broker.start()
  ended.unshift(broker.close)
  await statusOf(broker, isConnected)
  const foreign = await foreignClient(mosquitto.port)
  ended.unshift(async () => void foreign.end(true))
  await expect
    .poll(
      () => {
        foreign.publish('mill/levle', '1.5')
        return ingest.unmapped()
      },
      { timeout: 5000 },
    )
    .toMatchObject([{ topic: 'mill/levle', example: '1.5' }])
  foreign.publish('mill/level', '2')
  await expect.poll(() => readings, { timeout: 5000 }).toEqual([2])
  expect(ingest.unmapped()).toHaveLength(1)
})
