import { mkdtempSync, rmSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { createAlarmStores } from '../../../server/alarms/stores.ts'
import type { HttpContext } from '../../../server/http/context.ts'
import { createApp } from '../../../server/http/createApp.ts'
import { createLivePlant, type LivePlant } from '../../../server/livePlant.ts'
import { openState, type State } from '../../../server/state/openState.ts'
import type { AlarmPerformance, AlarmView, JournalEntry } from '../../../server/wire/alarm.ts'
import { type AccessBench, accessBench } from '../../support/accessBench.ts'
import { START } from '../../support/manualClock.ts'
import { silentNotify } from '../../support/notifyBench.ts'
import { plantOf } from '../../support/plants.ts'

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
  let folder: string
  let state: State
  let server: Server
  let base: string
  let live: LivePlant
  let demo: AccessBench

  beforeEach(async () => {
    demo = accessBench({ demo: true, plants: [] })
    folder = mkdtempSync(join(tmpdir(), 'headrace-alarms-'))
    state = openState(folder)
    const stores = createAlarmStores(state)
    live = createLivePlant(plantOf(MILL), {
      ...stores,
      counterStore: { load: () => undefined, days: () => [], save: () => true },
      mono: () => START,
      onTransition: () => {},
    })
    const context = {
      ...stores,
      plants: () => new Map([['mill', live]]),
      now: () => START,
      access: demo.access,
      notify: silentNotify(),
      lessons: {},
    } as unknown as HttpContext
    server = createServer(createApp(context, { webFolder: '/nowhere', host: '127.0.0.1' }))
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    base = `http://127.0.0.1:${(server.address() as AddressInfo).port}/api/plants/mill`
  })

  afterEach(async () => {
    await new Promise((resolve) => server.close(resolve))
    state.close()
    demo.close()
    rmSync(folder, { recursive: true, force: true })
  })

  async function post(
    path: string,
    body: object,
  ): Promise<{ status: number; reply: Record<string, unknown> }> {
    const response = await fetch(base + path, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })
    return { status: response.status, reply: (await response.json()) as Record<string, unknown> }
  }

  const read = async <T>(path: string) => (await (await fetch(base + path)).json()) as T

  function readPower(watts: number, at = START): void {
    live.takeReading({
      plant: 'mill',
      instrument: 'meter',
      quantity: 'activePower',
      value: watts,
      measuredAt: at,
      receivedAt: at,
      quality: 'good',
      reasons: [],
    })
    live.tick(at)
  }

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
    readPower(1000)
    expect((await read<AlarmView[]>('/alarms')).find((one) => one.id === 'low')).toMatchObject({
      state: 'shelved',
      active: true,
    })
    expect((await post('/alarms/low/unshelve', {})).reply).toMatchObject({ state: 'unacknowledged' })
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
    readPower(9000, START - 3000)
    readPower(1000, START - 2000)
    const report = await read<AlarmPerformance>(`/reports/alarms?from=${START - 600_000}&to=${START}`)
    expect(report).toMatchObject({ raised: 1, averagePerTenMinutes: 1, byPriority: { medium: 1 } })
  })

  it('list no events before there was one, and answer an unknown one with 404', async () => {
    expect(await read('/events')).toEqual([])
    expect((await fetch(`${base}/events/mill-1`)).status).toBe(404)
  })
})
