import { afterAll, describe, expect, it } from 'vitest'
import type { DeskReply, SeatReply } from '../../server/wire/lesson.ts'
import { until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'

describe('a lesson whose server is killed right after it said "stored"', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  let cookie = ''
  const start = () => startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])

  afterAll(async () => {
    await server.stop()
    scratch.remove()
  })

  async function ask<T>(method: string, path: string, body?: object): Promise<T> {
    const response = await fetchHere(server.url + path, {
      method,
      headers: { ...(cookie ? { cookie } : {}), ...(body ? { 'content-type': 'application/json' } : {}) },
      ...(body ? { body: JSON.stringify(body) } : {}),
    })
    const set = response.headers.getSetCookie().at(-1)
    if (set) cookie = set.split(';')[0]!
    if (!response.ok) throw new Error(`${path}: ${await response.text()}`)
    return (await response.json()) as T
  }

  it('has every row that was confirmed, and none twice', async () => {
    server = await start()
    const { lesson } = await ask<{ lesson: number }>('POST', '/api/plants/quennerby/lessons', {
      title: 'Killed',
    })
    const { code } = await ask<DeskReply>('GET', `/api/lessons/${lesson}`)
    await ask('POST', '/api/seat', { code, group: 'Blue' })
    const confirmed: string[] = []
    for (let round = 0; round < 4; round++) {
      const keys = Array.from({ length: 3 }, (_, i) => `round-${round}-press-${i}`)
      for (const key of keys) {
        await ask('POST', '/api/seat/records', { key, ageMs: 0 })
        confirmed.push(key)
      }
      await server.stop('SIGKILL')
      server = await start()
      // the phone does not know whether its last press arrived, and sends it again
      const again = await until(
        () => ask<{ number: number }>('POST', '/api/seat/records', { key: confirmed.at(-1)!, ageMs: 5000 }),
        () => true,
      )
      expect(again.number).toBe(confirmed.length)
      const { records, group } = await ask<SeatReply>('GET', '/api/seat')
      expect(group.name).toBe('Blue')
      expect(records.map(({ number }) => number).reverse()).toEqual(confirmed.map((_, i) => i + 1))
    }
  })
})
