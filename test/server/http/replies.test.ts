import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { z } from 'zod'
import { ROUTES } from '../../../server/http/routes.ts'
import { BENCH_PLACE } from '../../support/accessBench.ts'
import { expectDescribed } from '../../support/describedReplies.ts'
import { type LessonBench, lessonBench } from '../../support/lessonBench.ts'

/** Need what this server has not seen: a recorded trace, a recorded over-speed. Only the compiler checks these. */
const ELSEWHERE = ['/api/plants/:plant/runs/:run/traces/:trace', '/api/plants/:plant/events/:event']

const SUBJECTS: Record<string, string> = {
  plant: 'quennerby',
  figure: 'netHead',
  counter: 'energyGenerated',
  run: '1',
  replay: '1',
  lesson: '1',
}

const READS = ROUTES.filter(
  ({ method, path, reply }) => method === 'get' && reply instanceof z.ZodType && !ELSEWHERE.includes(path),
)

describe('the replies of a server that has a run, a replay, a lesson and users', () => {
  let bench: LessonBench
  let administrator: string
  let phone: string

  beforeAll(async () => {
    bench = await lessonBench()
    const { teacher } = bench
    const { administer, sessions } = bench.headrace.pageSide.access
    administer.add('Root', 'administrator')
    administrator = `headrace=${sessions.start(administer.list().find((one) => one.name === 'Root')!.id, BENCH_PLACE)}`
    bench.play(30)
    await teacher.ask('POST', '/api/plants/quennerby/runs', { trial: 'efficiencyDischarge', name: 'One' })
    const { clock } = bench.headrace
    const span = { from: clock.now() - 20_000, to: clock.now() - 1000 }
    await teacher.ask('POST', '/api/plants/quennerby/replays', span)
    await bench.openLesson()
    const group = await bench.phone('Green')
    phone = group.cookie()
    await group.ask('POST', '/api/seat/records', { key: 'abcdefgh', ageMs: 0 })
  }, 60_000)
  afterAll(() => bench.close())

  it.each(READS.map(({ path, right }) => [path, right]))(
    'at %s have the fields described',
    async (path, right) => {
      const address = path.replace(/:(\w+)/g, (_, name: string) => SUBJECTS[name]!)
      const response = await fetch(
        bench.headrace.url + address + (path.endsWith('/history') ? '?figures=netHead,activePower' : ''),
        { headers: { cookie: right === 'attend' ? phone : administrator, 'x-forwarded-for': '192.0.2.7' } },
      )
      const reply: unknown = await response.json()
      expect(response.status, JSON.stringify(reply)).toBe(200)
      expectDescribed('GET', address, reply)
    },
  )
})
