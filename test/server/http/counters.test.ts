import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { CounterDaysReply, CounterView, IndexView } from '../../../server/wire/replies.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { START } from '../../support/manualClock.ts'
import { DEMO } from '../../support/testHeadrace.ts'

describe('the counters over HTTP', () => {
  let http: HttpBench

  beforeEach(async () => {
    http = await httpBench(DEMO)
  })
  afterEach(() => http.close())

  describe('the days of a counter', () => {
    const days = (query = '', counter = 'energyGenerated') =>
      http.ask('GET', `/api/plants/mill/counters/${counter}/days${query}`)

    beforeEach(() => {
      for (let i = 0; i < 11; i++) http.measure('mill/power', '1')
    })

    it('are those of this month where nothing else is asked for, in the time of the plant', async () => {
      const reply = (await (await days()).json()) as CounterDaysReply
      // 1 790 000 000 s are 21 September 2026, 14:13:20 UTC; two seconds of 1 kW from the first evaluation on, by hand
      expect(reply).toMatchObject({ id: 'energyGenerated', unit: 'J', timeZone: 'Europe/London' })
      expect(reply.days).toEqual([
        expect.objectContaining({
          date: '2026-09-21',
          value: 2000,
          gapSeconds: 0,
          from: START + 200,
          to: START + 2200,
        }),
      ])
    })

    it.each([
      ['?from=2026-02-30', /query/],
      ['?to=yesterday', /query/],
      ['?from=2026-03-02&to=2026-03-01', /must not be after/],
      ['?from=1990-01-01', /at most 1100 days/],
    ])('are refused for %s', async (query, reason) => {
      const response = await days(query)
      expect(response.status).toBe(400)
      expect(((await response.json()) as { error: string }).error).toMatch(reason)
    })

    it('are not there for a counter that the plant lacks', async () => {
      expect((await days('', 'energyDumped')).status).toBe(404)
    })
  })

  it('gives the counters and what follows from them', async () => {
    http.headrace.clock.advance(200)
    const counters = (await (await http.ask('GET', '/api/plants/mill/counters')).json()) as CounterView[]
    expect(counters.map((counter) => counter.id)).toEqual(
      expect.arrayContaining(['energyGenerated', 'waterVolume', 'runSeconds', 'starts']),
    )
    const indices = (await (await http.ask('GET', '/api/plants/mill/indices')).json()) as IndexView[]
    expect(indices.map((index) => index.id)).toContain('capacityFactor')
  })
})
