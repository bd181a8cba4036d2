import { describe, expect, it } from 'vitest'
import { startHeartbeat } from '../../../../server/alarms/notify/heartbeat.ts'
import { startHookServer } from '../../../support/hookServer.ts'
import { manualClock } from '../../../support/manualClock.ts'
import { memoryBroker } from '../../../support/memoryBroker.ts'
import { WEDNESDAY } from '../../../support/notifyBench.ts'
import { until } from '../../../support/publisher.ts'

describe('the heartbeat', () => {
  it('calls the watcher at its period and counts what fails', async () => {
    const hook = await startHookServer()
    const clock = manualClock(WEDNESDAY)
    const setting = { url: hook.url, period: 60_000 }
    const beat = startHeartbeat({ setting, clock, broker: memoryBroker(), answerLimitMs: 300 })
    const counts = () => ({ sent: beat.view().sent, failures: beat.view().failures })
    const comes = (wanted: object) =>
      until(
        async () => counts(),
        (now) => JSON.stringify(now) === JSON.stringify(wanted),
      )
    await comes({ sent: 1, failures: 0 })
    hook.answerWith({ status: 500 })
    clock.advance(60_000)
    await comes({ sent: 1, failures: 1 })
    expect(beat.view().lastFailure).toBe('the receiver answered 500')
    hook.answerWith('hang')
    clock.advance(60_000)
    await comes({ sent: 1, failures: 2 })
    hook.answerWith({ status: 204 })
    clock.advance(60_000)
    await comes({ sent: 2, failures: 2 })
    expect(beat.view()).toMatchObject({ lastFailure: null, lastAt: WEDNESDAY + 180_000 })
    expect(JSON.parse(hook.requests[0]!.body)).toEqual({
      at: WEDNESDAY,
      periodMs: 60_000,
      readingsConnected: true,
    })
    beat.stop()
    clock.advance(600_000)
    expect(hook.requests).toHaveLength(4)
    await hook.close()
  })

  it('names only the beginning of the address', () => {
    const setting = { url: 'http://127.0.0.1:9/secret-path', period: 60_000 }
    const beat = startHeartbeat({
      setting,
      clock: manualClock(0),
      broker: memoryBroker(),
      answerLimitMs: 300,
    })
    expect(beat.view().to).toBe('http://127.0.0.1:9')
    beat.stop()
  })

  it('is published to its topic, and counts as failed while the broker is away', async () => {
    const broker = memoryBroker()
    const clock = manualClock(WEDNESDAY)
    const beat = startHeartbeat({ setting: { topic: 'watch/headrace', period: 1000 }, clock, broker })
    await new Promise((resolve) => setImmediate(resolve))
    broker.status = () => ({ connected: false, name: 'away', since: null })
    clock.advance(1000)
    await new Promise((resolve) => setImmediate(resolve))
    expect(broker.published.map((one) => one.topic)).toEqual(['watch/headrace'])
    expect(beat.view()).toMatchObject({ sent: 1, failures: 1 })
    beat.stop()
  })
})
