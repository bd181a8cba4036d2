import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { NotesReply, RunReply, RunsReply, TrialsReply } from '../../../server/wire/trial.ts'
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
    expect((await post('/runs/1/points', { measuredBy: 'Ada', figures })).status).toBe(200)
    expect((await post('/runs/1/points/1', { verdict: 'rejected', reason: 'a guess' })).status).toBe(200)
    expect((await post('/runs/1/notes', { notes: 'cold day' })).status).toBe(200)
    expect((await post('/runs/1/finish', {})).status).toBe(200)
    const { run, points, guidance } = await get<RunReply>('/runs/1')
    expect(run).toMatchObject({ notes: 'cold day', name: 'One', rejected: 1, kept: 0 })
    expect(points[0]).toMatchObject({
      by: 'demo (this machine)',
      measuredBy: 'Ada',
      verdict: 'rejected',
      reason: 'a guess',
    })
    expect(guidance).toBeNull()
  })

  describe('with people', () => {
    let tokens: Record<'Stu' | 'Sam' | 'Olga', string>
    beforeEach(async () => {
      tokens = {
        Stu: await http.person('Stu', 'student'),
        Sam: await http.person('Sam', 'student'),
        Olga: await http.person('Olga', 'operator'),
      }
    })

    const as = (who: keyof typeof tokens, path: string, body: unknown) =>
      http.ask('POST', BASE + path, { token: tokens[who], body })
    const read = async <T>(path: string) =>
      (await (await http.ask('GET', BASE + path, { token: tokens.Stu })).json()) as T

    async function finishedRun() {
      await as('Stu', '/runs', { trial: 'efficiencyDischarge', name: 'One' })
      const figures = [
        { figure: 'discharge', value: 2.7, unit: 'L/s' },
        { figure: 'turbineEfficiency', value: 69, unit: '%' },
      ]
      await as('Stu', '/runs/1/points', { figures, measuredBy: 'Prof. Ada' })
      await as('Stu', '/runs/1/notes', { notes: 'first' })
      await as('Stu', '/runs/1/finish', {})
    }

    it('signs a typed point with the name of the session, whatever name is typed', async () => {
      await finishedRun()
      const { points } = await read<RunReply>('/runs/1')
      expect(points[0]).toMatchObject({ by: 'Stu', measuredBy: 'Prof. Ada' })
      expect((await as('Stu', '/runs/1/points', { by: 'Prof. Ada', figures: [] })).status).toBe(400)
    })

    it('lets only who began a finished run, and operators, change notes and verdicts in it', async () => {
      await finishedRun()
      const verdict = { verdict: 'rejected', reason: 'no' }
      for (const [path, body] of [
        ['/runs/1/notes', { notes: 'mine now' }],
        ['/runs/1/points/1', verdict],
      ] as const) {
        const refused = await as('Sam', path, body)
        expect(refused.status).toBe(403)
        expect(await refused.json()).toEqual({
          error: 'This run is finished: Stu or an operator can still change it.',
        })
        expect((await as('Stu', path, body)).status).toBe(200)
        expect((await as('Olga', path, body)).status).toBe(200)
      }
    })

    it('keeps every version of names and notes, with who saved it', async () => {
      await finishedRun()
      await as('Olga', '/runs/1/notes', { notes: 'second', name: 'Two' })
      await as('Olga', '/runs/1/notes', { notes: 'second', name: 'Two' })
      const { versions } = await read<NotesReply>('/runs/1/notes')
      expect(versions.map(({ by, name, notes }) => [by, name, notes])).toEqual([
        ['Olga', 'Two', 'second'],
        ['Stu', 'One', 'first'],
        ['Stu', 'One', ''],
      ])
      const { database } = http.headrace.people
      expect(() => database.exec("UPDATE trial_notes SET notes = ''")).toThrow(/only ever added to/)
    })
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
