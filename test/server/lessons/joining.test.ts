import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { SeatReply } from '../../../server/wire/lesson.ts'
import { type LessonBench, lessonBench } from '../../support/lessonBench.ts'

describe('joining a lesson', () => {
  let bench: LessonBench
  let id: number
  let code: string
  beforeEach(async () => {
    bench = await lessonBench()
    ;({ id, code } = await bench.openLesson())
  })
  afterEach(() => bench.close())

  const attempt = (wish: object) => bench.stranger().ask<{ error: string }>('POST', '/api/seat', wish)
  const teach = (path: string, body: object = {}) =>
    bench.teacher.ask('POST', `/api/lessons/${id}/${path}`, body)

  it('lets others at the address in whose neighbour has typed many wrong codes', async () => {
    for (let i = 0; i < 30; i++) await attempt({ code: `bab${'aeiou'[i % 5]}-baba`, group: 'X' })
    expect((await attempt({ code, group: 'Blue' })).status).toBe(200)
  })

  it('slows an address down that tries hundreds of codes, by ten seconds at most', async () => {
    for (let i = 0; i < 210; i++) await attempt({ code: 'baba-babu', group: 'X' })
    expect((await attempt({ code, group: 'Blue' })).status).toBe(429)
    bench.headrace.clock.sleep(10_000)
    expect((await attempt({ code, group: 'Blue' })).status).toBe(200)
  })

  it('takes a further phone into a group only with the word that the first one shows', async () => {
    const first = await bench.phone('Alpha')
    const { group } = (await first.ask<SeatReply>('GET', '/api/seat')).reply
    expect(group.word).toMatch(/^(?:[bdfgkmnprstv][aeiou]){3}$/)
    const without = await attempt({ code, group: 'ALPHA' })
    expect(without).toMatchObject({ status: 409, reply: { error: expect.stringContaining('Type the word') } })
    expect((await attempt({ code, group: 'alpha', word: 'bababu' })).status).toBe(409)
    expect((await attempt({ code, group: 'alpha', word: ` ${group.word.toUpperCase()}` })).status).toBe(200)
    expect((await bench.desk(id)).groups).toMatchObject([{ name: 'Alpha', word: group.word, phones: 2 }])
  })

  it('makes whoever guesses at the word wait', async () => {
    await bench.phone('Alpha')
    for (let i = 0; i < 6; i++) await attempt({ code, group: 'Alpha', word: 'bababu' })
    expect((await attempt({ code, group: 'Alpha', word: 'bababu' })).status).toBe(429)
    expect((await attempt({ code, group: 'Beta' })).status).toBe(200)
  })

  it('takes no more than a class at once from one address', async () => {
    const answers: number[] = []
    for (let i = 0; i < 25; i++) answers.push((await attempt({ code, group: `G${i}` })).status)
    expect(answers.filter((status) => status === 200).length).toBe(20)
    expect(answers.at(-1)).toBe(429)
    bench.headrace.clock.sleep(10_000)
    expect((await attempt({ code, group: 'late' })).status).toBe(200)
  })

  it('is closed and opened by the instructor; who has joined stays', async () => {
    const phone = await bench.phone('Alpha')
    await teach('joining', { isOpen: false })
    expect((await bench.desk(id)).isClosed).toBe(true)
    expect(await attempt({ code, group: 'Beta' })).toMatchObject({
      status: 409,
      reply: { error: expect.stringContaining('open joining') },
    })
    expect((await phone.ask('GET', '/api/seat')).status).toBe(200)
    await teach('joining', { isOpen: true })
    expect((await attempt({ code, group: 'Beta' })).status).toBe(200)
  })

  it('needs the new code once the instructor has made one, also after a restart: a group that was removed stays out', async () => {
    await bench.phone('Alpha')
    await bench.teacher.ask('DELETE', `/api/lessons/${id}/groups/1`)
    await teach('code')
    await bench.restart()
    const { code: fresh } = await bench.desk(id)
    expect(fresh).not.toBe(code)
    expect((await attempt({ code, group: 'Alpha' })).status).toBe(401)
    expect((await attempt({ code: fresh, group: 'Beta' })).status).toBe(200)
  })

  it('lets the instructor take a strike back', async () => {
    const phone = await bench.phone('Alpha')
    bench.play(1)
    await phone.ask('POST', '/api/seat/records', { key: 'press-one', ageMs: 0, remark: 'ours' })
    await phone.ask('POST', '/api/seat/records/1/strike', { reason: 'not ours' })
    expect((await bench.desk(id)).struck).toEqual([{ number: 1, groupName: 'Alpha', reason: 'not ours' }])
    expect((await teach('records/1/unstrike')).status).toBe(200)
    expect((await teach('records/7/unstrike')).status).toBe(404)
    const { records } = (await phone.ask<SeatReply>('GET', '/api/seat')).reply
    expect(records[0]).toMatchObject({ remark: 'ours', struck: null })
    expect((await bench.desk(id)).struck).toEqual([])
  })

  it('takes no prediction that no rig could reach', async () => {
    const phone = await bench.phone('Alpha')
    await teach('questions', { text: 'How much power?', figure: 'activePower' })
    const predict = (value: number, u?: number) =>
      phone.ask('POST', '/api/seat/predictions', { question: 1, value, ...(u === undefined ? {} : { u }) })
    expect(await predict(-1e308)).toMatchObject({
      status: 400,
      reply: { error: expect.stringContaining('power of ten') },
    })
    expect((await predict(300, 1e308)).status).toBe(400)
    expect((await predict(300, 50)).status).toBe(200)
  })
})
