import { afterEach, describe, expect, it } from 'vitest'
import { plantOf } from '../support/plants.ts'
import { type TestHeadrace, testHeadrace } from '../support/testHeadrace.ts'

const HOUR_MS = 3_600_000
const POWER_KW = 3

const PLANT = `
generator: { kind: synchronous, polePairs: 2, ratedPower: 4 kW, ratedSpeed: 1500 /min }
instruments:
  - { id: meter, role: activePower, topic: mill/power, unit: kW, period: 1 s }
  - { id: timed, role: discharge, topic: mill/flow, unit: L/s, period: 1 s, payload: { format: json, value: /v, time: /t } }
  - { id: tacho, role: speed, topic: mill/speed, unit: /min, period: 1 s }
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 1 kW, onDelay: 10 s, priority: medium }
`

/** The wall clock alone is set; the device that writes its own time follows half a minute later, as time servers do. */
const FOLLOWS_S = 30

// What is expected are rules of the house: intervals are measured on the monotonic clock, and nothing hides an over-speed.
describe.each([
  ['ahead', HOUR_MS],
  ['back', -HOUR_MS],
])('a clock that is set %s by an hour while the server runs', (_, step) => {
  let headrace: TestHeadrace
  afterEach(() => headrace.close())

  async function open(): Promise<void> {
    headrace = await testHeadrace({ plants: [plantOf(PLANT)] })
    run(20, POWER_KW)
  }

  /** One reading a second of each instrument. @param offset Of the device's own clock against the server's [ms]. */
  function run(seconds: number, kw: number, { offset = 0, speed = 1500 } = {}): void {
    const { clock, broker } = headrace
    for (let i = 0; i < seconds; i++) {
      const now = clock.now()
      const deliver = (topic: string, payload: string) => broker.deliver({ topic, payload, receivedAt: now })
      deliver('mill/power', String(kw + (i % 2) * 0.001))
      deliver('mill/speed', String(speed + (i % 2)))
      deliver('mill/flow', JSON.stringify({ v: 10 + (i % 2), t: now + offset }))
      clock.advance(1000)
    }
  }

  const energy = () =>
    headrace
      .live('mill')
      .counters.views()
      .find(({ id }) => id === 'energyGenerated')!
  const alarm = (id: string) =>
    headrace
      .live('mill')
      .board.views()
      .find((one) => one.id === id)!
  const figure = (id: string) => {
    const { plan, evaluator } = headrace.live('mill')
    return evaluator.view(plan.indexOf.get(id)!)
  }

  it('counts no energy for the hour that did not pass, and none twice', async () => {
    await open()
    const before = energy().value
    headrace.clock.setWall(headrace.clock.now() + step)
    run(60, POWER_KW)
    const counted = energy().value - before
    expect(counted).toBeGreaterThanOrEqual(POWER_KW * 1000 * 55)
    expect(counted).toBeLessThanOrEqual(POWER_KW * 1000 * 62)
  })

  it('hides no over-speed, not even of the first reading after it', async () => {
    await open()
    headrace.clock.setWall(headrace.clock.now() + step)
    headrace.broker.deliver({ topic: 'mill/speed', payload: '1800', receivedAt: headrace.clock.now() })
    expect(alarm('over').state).toBe('unacknowledged')
  })

  it('makes no delay of an alarm longer or shorter', async () => {
    await open()
    run(5, 0.5)
    headrace.clock.setWall(headrace.clock.now() + step)
    run(3, 0.5)
    expect(alarm('low').state).toBe('normal')
    run(8, 0.5)
    expect(alarm('low').state).toBe('unacknowledged')
  })

  it('leaves figures good: those by time of arrival at once, those with a time of their own when their device follows', async () => {
    await open()
    headrace.clock.setWall(headrace.clock.now() + step)
    run(FOLLOWS_S, POWER_KW, { offset: -step })
    expect(figure('activePower')).toMatchObject({ quality: 'good' })
    expect(figure('activePower').value).toBeCloseTo(POWER_KW * 1000, -1)
    run(FOLLOWS_S, POWER_KW)
    expect(figure('discharge')).toMatchObject({ quality: 'good' })
    expect(figure('discharge').value).toBeCloseTo(0.0105, 3)
  })
})
