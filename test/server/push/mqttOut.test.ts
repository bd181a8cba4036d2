import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'

// What is checked follows from how brokers keep one retained message for each topic (MQTT 3.1.1, 3.3.1.3).
describe('what is published for other programs', () => {
  let http: HttpBench
  let kept: Map<string, string>
  let published: { topic: string; payload: string }[]

  beforeEach(async () => {
    http = await httpBench()
    published = http.headrace.broker.published
    kept = new Map()
    http.measure('mill/power', '3')
    http.measure('mill/power', '0.5')
    http.headrace.clock.advance(2000)
    keep()
  })
  afterEach(() => http.close())

  /** The retained messages of a broker that got all this, after what somebody else did to it. */
  function keep(others: Record<string, string> = {}): void {
    for (const { topic, payload } of published.splice(0)) kept.set(topic, payload)
    for (const [topic, payload] of Object.entries(others)) kept.set(topic, payload)
  }
  const read = (topic: string) => JSON.parse(kept.get(topic) ?? 'null') as Record<string, unknown> | null

  const ALARM = 'headrace/mill/alarms/low'
  const FIGURE = 'headrace/mill/figures/hydraulicPower'

  it('is right again within a minute where somebody else forged or cleared it, though nothing changed', () => {
    const [alarm, figure] = [read(ALARM), read(FIGURE)]
    expect(alarm).toMatchObject({ state: 'unacknowledged', entry: { event: 'raise' } })
    expect(figure).toMatchObject({ quality: 'bad' })
    const forged = { [ALARM]: '', [FIGURE]: '{"value":1e9}', 'headrace/status': 'offline' }
    keep(forged)
    http.headrace.clock.advance(60_000)
    keep()
    expect(kept.get('headrace/status')).toBe('online')
    expect(read(ALARM)).toMatchObject({ state: 'unacknowledged', entry: { event: 'raise' } })
    expect(read(FIGURE)).toMatchObject({ quality: 'bad' })
  })

  it('has the state of the machine in a word and a sentence, and since when', () => {
    const STATE = 'headrace/mill/state'
    expect(read(STATE)).toMatchObject({ state: 'generating', simulated: false })
    http.measure('mill/power', '0')
    http.headrace.clock.advance(2000)
    keep()
    expect(read(STATE)).toMatchObject({
      state: 'unknown',
      sentence: expect.stringMatching(/no instrument tells/),
    })
    keep({ [STATE]: '{"state":"stopped"}' })
    http.headrace.clock.advance(60_000)
    keep()
    expect(read(STATE)).toMatchObject({ state: 'unknown' })
  })

  it('tells every alarm within the first minute, also one that did not change since the start', async () => {
    await http.headrace.restart()
    published = http.headrace.broker.published
    kept.set(ALARM, '{"state":"latched"}')
    http.headrace.clock.advance(60_000)
    keep()
    expect(read(ALARM)).toMatchObject({ id: 'low' })
    expect(read(ALARM)).not.toMatchObject({ state: 'latched' })
  })

  it('goes out spread over the minute: no second has more than a twentieth of it beside what changed', () => {
    http.headrace.clock.advance(60_000)
    published.length = 0
    const perSecond: number[] = []
    for (let second = 0; second < 60; second++) {
      http.headrace.clock.advance(1000)
      perSecond.push(published.splice(0).length)
    }
    const all = perSecond.reduce((sum, one) => sum + one, 0)
    expect(all).toBeGreaterThan(20)
    expect(Math.max(...perSecond)).toBeLessThanOrEqual(Math.max(8, all / 20))
  })
})
