import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { AlarmPerformance, AlarmView, EpisodeView, JournalEntry } from '../../../server/wire/alarm.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf } from '../../support/plants.ts'
import { DEMO } from '../../support/testHeadrace.ts'

const MILL = `
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
instruments:
  - { id: tacho, role: speed, topic: mill/speed, unit: /min }
  - { id: meter, role: activePower, topic: mill/power, unit: kW }
alarms:
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 5 kW, priority: medium, shelf: 2 h }
`

describe('the alarms over HTTP', () => {
  let http: HttpBench

  beforeEach(async () => {
    http = await httpBench(DEMO, [plantOf(MILL)])
  })
  afterEach(() => http.close())

  const ask = (method: string, path: string, body?: object) =>
    http.ask(method, `/api/plants/mill${path}`, { body })

  async function post(
    path: string,
    body: object,
  ): Promise<{ status: number; reply: Record<string, unknown> }> {
    const response = await ask('POST', path, body)
    return { status: response.status, reply: (await response.json()) as Record<string, unknown> }
  }

  const read = async <T>(path: string) => (await (await ask('GET', path)).json()) as T

  it('shelve an alarm with name, reason and end, and say so in the journal with the place', async () => {
    const { status, reply } = await post('/alarms/low/shelve', {
      minutes: 30,
      note: 'meter test',
    })
    expect(status).toBe(200)
    expect(reply).toMatchObject({
      state: 'shelved',
      shelvedUntil: START + 1_800_000,
      withheld: { by: 'demo (this machine)', reason: 'meter test' },
    })
    const { entries } = await read<{ entries: JournalEntry[] }>('/journal')
    expect(entries[0]).toMatchObject({
      event: 'shelve',
      by: 'demo (this machine)',
      via: 'program at 127.0.0.1',
      note: 'meter test',
      until: START + 1_800_000,
    })
    http.measure('mill/power', '1')
    expect((await read<AlarmView[]>('/alarms')).find((one) => one.id === 'low')).toMatchObject({
      state: 'shelved',
      active: true,
    })
    expect((await post('/alarms/low/unshelve', {})).reply).toMatchObject({ state: 'unacknowledged' })
  })

  it('acknowledge an event with one press, each alarm with a line of its own, and nothing that was raised since', async () => {
    http.measure('mill/speed', '1700')
    const [event] = await read<EpisodeView[]>('/episodes')
    expect(event).toMatchObject({ headline: 'Over-speed', alarms: ['over'], unacknowledged: 1 })
    const path = `/episodes/${event!.id}/acknowledge`
    const early = await post(path, { raisedAt: event!.raisedAt - 1 })
    expect([early.status, (early.reply as unknown as AlarmView[])[0]!.state]).toEqual([200, 'unacknowledged'])
    const { reply } = await post(path, { raisedAt: event!.raisedAt, note: 'seen' })
    expect((reply as unknown as AlarmView[])[0]).toMatchObject({ id: 'over', state: 'acknowledged' })
    const { entries } = await read<{ entries: JournalEntry[] }>('/journal')
    expect(entries[0]).toMatchObject({ alarm: 'over', event: 'acknowledge', note: 'seen' })
    expect((await post('/episodes/none/acknowledge', { raisedAt: 0 })).status).toBe(404)
  })

  it('refuse to shelve over-speed at all, and others without reason or beyond their longest time', async () => {
    const over = await post('/alarms/over/shelve', { minutes: 1, note: 'trip test' })
    expect([over.status, over.reply['error']]).toEqual([
      409,
      '"Over-speed" cannot be shelved. A maintainer may take it out of service.',
    ])
    expect((await post('/alarms/low/shelve', { minutes: 30 })).status).toBe(400)
    const long = await post('/alarms/low/shelve', { minutes: 121, note: 'long job' })
    expect([long.status, long.reply['error']]).toEqual([
      409,
      '"Power low" can be shelved for 120 min at most.',
    ])
  })

  it('keep an alarm out of service until it is put back', async () => {
    expect((await post('/alarms/over/outOfService', { note: 'pickup removed' })).reply).toMatchObject({
      state: 'outOfService',
    })
    expect((await post('/alarms/over/putBack', { note: 'pickup fitted' })).reply).toMatchObject({
      state: 'normal',
      withheld: null,
    })
  })

  it('report how they did in a span', async () => {
    http.measure('mill/power', '9')
    http.measure('mill/power', '1')
    http.headrace.clock.advance(2000)
    const now = http.headrace.clock.now()
    const report = await read<AlarmPerformance>(`/reports/alarms?from=${now - 600_000}&to=${now}`)
    expect(report).toMatchObject({ raised: 1, averagePerTenMinutes: 1, byPriority: { medium: 1 } })
  })

  it('report on thousands of entries, read in pieces, as on few', async () => {
    const { state, clock } = http.headrace
    const now = clock.now()
    const insert = state.database.prepare('INSERT INTO journal (at, plant, entry) VALUES (?, ?, ?)')
    state.write(() => {
      for (let i = 0; i < 2500; i++) {
        // Many at one moment, so that none may fall between two pieces.
        const at = now - 600_000 + Math.floor(i / 700)
        const entry = { entry: 'alarm', alarm: 'low', event: 'raise', at, priority: 'low' }
        insert.run(at, 'mill', JSON.stringify(entry))
      }
    })
    const report = await read<AlarmPerformance>(`/reports/alarms?from=${now - 600_000}&to=${now}`)
    expect(report).toMatchObject({ raised: 2500, byPriority: { low: 2500 } })
  })

  it('list no events before there was one, and answer an unknown one with 404', async () => {
    expect(await read('/events')).toEqual([])
    expect((await ask('GET', '/events/mill-1')).status).toBe(404)
  })
})
