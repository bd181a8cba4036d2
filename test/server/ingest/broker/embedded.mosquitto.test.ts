import { execFile } from 'node:child_process'
import { promisify } from 'node:util'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { systemClock } from '../../../../server/clock.ts'
import { createEmbeddedBroker, type EmbeddedBroker } from '../../../../server/ingest/broker/embedded.ts'
import { messageOf } from '../../../support/brokerEvents.ts'

const run = promisify(execFile)

describe('the embedded broker and another maker’s client', () => {
  let broker: EmbeddedBroker

  beforeEach(async () => {
    broker = createEmbeddedBroker({ clock: systemClock, port: 0, user: 'mill', password: 'race' })
    broker.subscribe(['mill/#'])
    await broker.start()
  })

  afterEach(() => broker.close())

  const publish = (...more: string[]) =>
    run('mosquitto_pub', ['-h', '127.0.0.1', '-p', String(broker.port()), '-t', 'mill/level', ...more])

  it.each(['0', '1', '2'])('understand each other with QoS %s', async (qos) => {
    const arrival = messageOf(broker, 'mill/level')
    await publish('-m', '1.25', '-q', qos, '-u', 'mill', '-P', 'race')
    expect(Buffer.from((await arrival).payload).toString()).toBe('1.25')
    expect(broker.counters().received).toBe(1)
  })

  it('tells that client that its password is wrong', async () => {
    await expect(publish('-m', '1', '-u', 'mill', '-P', 'wrong')).rejects.toThrow(
      /bad user name or password/i,
    )
    expect(broker.counters().received).toBe(0)
  })

  it('tells that client that MQTT 5 is not spoken here', async () => {
    await expect(publish('-m', '1', '-V', '5', '-u', 'mill', '-P', 'race')).rejects.toThrow(/protocol/i)
  })
})
