import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { AlarmView, JournalEntry } from '../../server/wire/alarm.ts'
import type { EventSummary } from '../../server/wire/event.ts'
import type { ReplaySummary } from '../../server/wire/replay.ts'
import type { CounterView, HistoryReply } from '../../server/wire/replies.ts'
import { until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'

const PLANT = '/api/plants/quennerby'

describe('a replay of an over-speed', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  const start = () => startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])

  beforeAll(async () => {
    server = await start()
  })
  afterAll(async () => {
    await server.stop()
    scratch.remove()
  })

  async function ask<T>(path: string, body?: object): Promise<T> {
    const init = body && {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    }
    const response = await fetchHere(server.url + path, init)
    if (!response.ok) throw new Error(`${path}: ${await response.text()}`)
    return (await response.json()) as T
  }

  /** Everything at the plant that an over-speed leaves behind. */
  async function traces() {
    const { entries } = await ask<{ entries: JournalEntry[] }>(`${PLANT}/journal?limit=500`)
    const counters = await ask<CounterView[]>(`${PLANT}/counters`)
    return {
      journal: entries.filter(({ alarm }) => /speed/i.test(alarm)).length,
      counted: counters.find(({ id }) => id === 'overSpeedEvents')!.value,
      events: (await ask<EventSummary[]>(`${PLANT}/events?limit=50`)).length,
      messages: (await ask<{ queues: { name: string; length: number }[] }>('/api/health')).queues.find(
        ({ name }) => /messages/.test(name),
      )?.length,
    }
  }

  const overSpeed = async () =>
    (await ask<AlarmView[]>(`${PLANT}/alarms`)).some(
      ({ kind, changedAt }) => kind === 'overSpeed' && changedAt !== null,
    )

  it('shows it again, and leaves nothing behind: no alarm, count, event record or message', async () => {
    const from = Date.now()
    await new Promise((resolve) => setTimeout(resolve, 4000))
    await ask(`${PLANT}/simulator/charger`, { value: false })
    await until(overSpeed, Boolean)
    await ask(`${PLANT}/simulator/charger`, { value: true })
    for (let jet = 1; jet <= 4; jet++) await ask(`${PLANT}/simulator/jet-${jet}`, { value: false })
    // until nothing new may come of the real one
    await until(
      () => ask<{ value: { value: number | null } }>(`${PLANT}/figures/speed/explain`),
      ({ value }) => value.value !== null && value.value * 9.5493 < 300,
      60_000,
    )
    await new Promise((resolve) => setTimeout(resolve, 3000))
    const to = Date.now() - 1000
    const before = await traces()
    expect([before.counted > 0, before.events > 0, before.journal > 0]).toEqual([true, true, true])

    const { replay } = await ask<{ replay: number }>(`${PLANT}/replays`, { from, to })
    const summary = () => ask<ReplaySummary>(`/api/replays/${replay}`)
    await ask(`/api/replays/${replay}`, { isPaused: false, speed: 8 })
    await until(summary, ({ isPaused }) => isPaused, 60_000)
    // the brake ends it within half a second: 110 % of 1500 min⁻¹ and more stands in what was replayed
    const { figures } = await ask<HistoryReply>(
      `/api/replays/${replay}/history?figures=speed&from=${from}&points=500`,
    )
    const fastest = Math.max(...figures[0]!.max.map((one) => one ?? 0))
    expect((fastest * 60) / (2 * Math.PI)).toBeGreaterThan(1650)
    expect(await traces()).toEqual(before)
  }, 180_000)

  it('is gone after the server was killed, and the recording can be shown anew', async () => {
    const to = Date.now() - 1000
    const wish = { from: to - 20_000, to }
    const { replay } = await ask<{ replay: number }>(`${PLANT}/replays`, wish)
    await ask(`/api/replays/${replay}`, { isPaused: false, speed: 16 })
    await server.stop('SIGKILL')
    server = await start()
    expect((await ask<{ replays: unknown[] }>(`${PLANT}/replays`)).replays).toEqual([])
    const again = await ask<{ replay: number }>(`${PLANT}/replays`, wish)
    await ask(`/api/replays/${again.replay}`, { isPaused: false, speed: 16 })
    const done = await until(
      () => ask<ReplaySummary>(`/api/replays/${again.replay}`),
      ({ at }) => at >= wish.to,
    )
    expect(done.waits).toBeNull()
  }, 60_000)
})
