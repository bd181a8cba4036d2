import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ROUTES } from '../../../server/http/routes.ts'
import { type Caller, joinScene, type LessonBench, lessonBench } from '../../support/lessonBench.ts'

/** Reading is closed, and open to everybody: a phone in a lesson may do the same few things in both. */
describe.each([false, true])('a seat in a lesson, where reading is open: %s', (openReading) => {
  let bench: LessonBench
  let phone: Caller
  let id: number
  beforeAll(async () => {
    bench = await lessonBench({ openReading })
    await bench.openLesson('Other lesson')
    id = (await bench.openLesson()).id
    phone = await bench.phone('Blue')
    bench.play(1)
  })
  afterAll(() => bench.close())

  const part = fc.constantFrom(
    'quennerby',
    `lesson:${2}`,
    '1',
    '2',
    '999',
    'speed',
    'overSpeed',
    '..',
    'x%2Fy',
  )
  const elsewhere = ROUTES.filter(({ right }) => right !== 'attend' && right !== 'open')

  it('can do nothing at any other route, whatever it puts into the address', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...elsewhere),
        fc.array(part, { minLength: 3, maxLength: 3 }),
        async ({ method, path }, parts) => {
          let next = 0
          const address = path.replace(/:\w+/g, () => parts[next++]!)
          const { status } = await phone.ask(method.toUpperCase(), address, method === 'get' ? undefined : {})
          expect([401, 404], `${method} ${address}`).toContain(status)
        },
      ),
      { numRuns: 150 },
    )
    for (const { method, path } of elsewhere) {
      const address = path.replace(':plant', 'quennerby').replace(':lesson', String(id)).replace(/:\w+/g, '1')
      const { status } = await phone.ask(method.toUpperCase(), address, method === 'get' ? undefined : {})
      expect(status, `${method} ${address}`).toBe(401)
    }
  })

  it('can watch its own lesson, and no plant and no other lesson', async () => {
    const socket = phone.socket()
    expect(await joinScene(socket, `lesson:${id}`)).toMatchObject({ ok: true })
    for (const scene of ['quennerby', 'lesson:1', 'replay:1', ''])
      expect(await joinScene(socket, scene), scene).toMatchObject({ ok: false })
  })

  it('is told what it may do: attend, and nothing else', async () => {
    const { reply } = await phone.ask('GET', '/api/session')
    expect(reply).toMatchObject({ name: null, actions: ['attend'] })
  })

  it('says to a browser that has joined why it sees nothing else', async () => {
    const { reply } = await phone.ask('GET', '/api/plants')
    expect(reply).toMatchObject({ error: expect.stringMatching(/has joined a lesson/) })
  })

  it('is given up by leaving, and the browser is what it was before', async () => {
    const leaver = await bench.phone('Leavers')
    await leaver.ask('DELETE', '/api/seat')
    expect((await leaver.ask('GET', '/api/seat')).status).toBe(401)
    expect((await leaver.ask('GET', '/api/plants')).status).toBe(openReading ? 200 : 401)
  })
})

describe('a full lesson', () => {
  it('takes 200 phones, tells the next one so, and serves them all', async () => {
    const bench = await lessonBench()
    const { id, code } = await bench.openLesson()
    const phones: Caller[] = []
    for (let i = 0; i < 200; i++) {
      // slower than from one address in a minute
      bench.headrace.clock.sleep(i < 40 ? 10_000 : 2000)
      phones.push(await bench.phone(`Group ${i % 40}`))
    }
    bench.headrace.clock.sleep(2000)
    const more = await bench.stranger().ask('POST', '/api/seat', { code, group: 'Group 1' })
    expect(more).toMatchObject({ status: 409, reply: { error: expect.stringMatching(/200 phones/) } })
    // a hundred of them watch: everybody gets every value that changed, and each its own row
    const watching = phones.slice(0, 100)
    const heard = await Promise.all(
      watching.map(async (one) => {
        const values = new Map<number, number | null>()
        const socket = one.socket()
        socket.on('frame', (frame, done) => {
          for (const [index, { value }] of frame.values) values.set(index, value)
          done()
        })
        expect(await joinScene(socket, `lesson:${id}`)).toMatchObject({ ok: true })
        return values
      }),
    )
    bench.play(1)
    const index = bench.headrace.live('quennerby').plan.indexOf.get('speed')!
    await expect.poll(() => heard.filter((values) => values.has(index)).length, { timeout: 20_000 }).toBe(100)
    await Promise.all(
      watching.map((one, i) => one.ask('POST', '/api/seat/records', { key: `press-of-${i}`, ageMs: 0 })),
    )
    const { groups } = await bench.desk(id)
    expect(groups.map(({ records }) => records).reduce((sum, one) => sum + one)).toBe(100)
    await bench.close()
  })
})
