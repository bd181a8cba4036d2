import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { RunReply, RunsReply, TrialsReply } from '../../../server/wire/trial.ts'
import { createSite } from '../../../simulator/site.ts'
import { expectDescribed } from '../../support/describedReplies.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { DEMO } from '../../support/testHeadrace.ts'

const BASE = '/api/plants/quennerby'

describe('trials over HTTP', () => {
  let http: HttpBench

  beforeEach(async () => {
    http = await httpBench(DEMO, [createSite('quennerby').plant])
  })
  afterEach(() => http.close())

  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    http.ask('POST', BASE + path, { body, headers })
  const get = async <T>(path: string) => {
    const reply = (await (await http.ask('GET', BASE + path)).json()) as T
    expectDescribed('GET', BASE + path, reply)
    return reply
  }
  const start = () => post('/runs', { trial: 'efficiencyDischarge', name: 'One', year: '2026' })

  it('lists what can be tried and which run is under way', async () => {
    expect((await get<TrialsReply>('/trials')).underWay).toBeNull()
    expect(await (await start()).json()).toEqual({ run: 1 })
    const list = await get<TrialsReply>('/trials')
    expect(list.underWay).toMatchObject({
      id: 1,
      takes: 'points',
      name: 'One',
      year: '2026',
      group: '',
      by: 'demo (this machine)',
    })
    expect(list.trials.find((one) => one.id === 'efficiencyDischarge')!.lacking).toEqual([])
  })

  it('takes a typed point, a verdict, notes and the end, and says so in the run', async () => {
    await start()
    const figures = [
      { figure: 'discharge', value: 2.7, unit: 'L/s' },
      { figure: 'turbineEfficiency', value: 69, unit: '%', u: 1 },
    ]
    expect((await post('/runs/1/points', { by: 'Ada', figures })).status).toBe(200)
    expect((await post('/runs/1/points/1', { verdict: 'rejected', reason: 'a guess' })).status).toBe(200)
    expect((await post('/runs/1/notes', { notes: 'cold day' })).status).toBe(200)
    expect((await post('/runs/1/finish', {})).status).toBe(200)
    const { run, points, guidance } = await get<RunReply>('/runs/1')
    expect(run).toMatchObject({ notes: 'cold day', name: 'One', rejected: 1, kept: 0 })
    expect(points[0]).toMatchObject({ by: 'Ada', verdict: 'rejected', reason: 'a guess' })
    expect(guidance).toBeNull()
  })

  it.each([
    ['/runs', { trial: 'efficiencyDischarge' }, 400],
    ['/runs', { trial: 'nothing', name: 'x' }, 404],
    ['/runs/1/points/1', { verdict: 'perhaps' }, 400],
    ['/runs/1/points/1', { verdict: 'rejected' }, 404],
    ['/runs/x/finish', {}, 400],
    ['/runs/9/finish', {}, 404],
    ['/runs/1/notes', { readings: [] }, 400],
  ])('refuses %s with %j as %s, in a sentence', async (path, body, status) => {
    await start()
    const response = await post(path, body)
    expect(response.status).toBe(status)
    expect(((await response.json()) as { error: string }).error).toMatch(/\.$/)
  })

  it('lets no page from elsewhere act', async () => {
    const response = await post(
      '/runs',
      { trial: 'efficiencyDischarge', name: 'x' },
      { origin: 'http://evil.example' },
    )
    expect(response.status).toBe(403)
    expect((await get<RunsReply>('/runs')).runs).toEqual([])
  })

  it('gives a pack as a zip file to download', async () => {
    await start()
    const response = await http.ask('GET', `${BASE}/runs/1/pack`)
    expect(response.headers.get('content-disposition')).toBe('attachment; filename=quennerby-run-1.zip')
    // the four bytes with which a zip file begins (APPNOTE 4.3.7)
    expect(Array.from(new Uint8Array(await response.arrayBuffer()).slice(0, 4))).toEqual([0x50, 0x4b, 3, 4])
  })
})
