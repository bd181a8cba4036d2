import { createHash } from 'node:crypto'
import { strFromU8, unzipSync } from 'fflate'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { SeatReply } from '../../../server/wire/lesson.ts'
import { joinScene, type LessonBench, lessonBench } from '../../support/lessonBench.ts'

describe('a lesson', () => {
  let bench: LessonBench
  beforeEach(async () => {
    bench = await lessonBench()
  })
  afterEach(() => bench.close())

  const press = (key: string, more: object = {}) => ({ key: `press-${key}`, ageMs: 0, ...more })

  it('is joined with its code, however it is typed, and the group has no name but the one given', async () => {
    const { id, code } = await bench.openLesson()
    expect(code).toMatch(
      /^[bdfgkmnprstv][aeiou][bdfgkmnprstv][aeiou]-[bdfgkmnprstv][aeiou][bdfgkmnprstv][aeiou]$/,
    )
    const phone = await bench.phone('Blue', code.toUpperCase().replace('-', ' '))
    const { reply } = await phone.ask<SeatReply>('GET', '/api/seat')
    expect(reply).toMatchObject({
      lesson: id,
      group: { number: 1, name: 'Blue' },
      state: 'open',
      records: [],
    })
    expect(phone.cookie()).toMatch(/^headrace-seat=/)
  })

  it('keeps the group of a phone that joins twice, and shares a group between phones', async () => {
    const { id, code } = await bench.openLesson()
    const phone = await bench.phone('Blue')
    await phone.ask('POST', '/api/seat', { code, group: 'Red' })
    await bench.phone(' blue ')
    const { groups, seats } = await bench.desk(id)
    expect(groups).toMatchObject([{ number: 1, name: 'Blue', phones: 2, records: 0, hasPredicted: false }])
    expect(seats).toBe(2)
  })

  it('stores a record once, whatever the network does, and never changes it', async () => {
    await bench.openLesson()
    const phone = await bench.phone('Blue')
    bench.play(2)
    const first = await phone.ask('POST', '/api/seat/records', press('one'))
    expect(first).toMatchObject({ status: 200, reply: { number: 1 } })
    bench.play(1)
    expect((await phone.ask('POST', '/api/seat/records', press('one'))).reply).toEqual({ number: 1 })
    expect((await phone.ask('POST', '/api/seat/records', press('two'))).reply).toEqual({ number: 2 })
    const { records } = (await phone.ask<SeatReply>('GET', '/api/seat')).reply
    expect(records.map(({ number }) => number)).toEqual([2, 1])
    expect(records[0]).toMatchObject({
      setting: expect.stringMatching(/^jets 1, 2, 3, 4/),
      shown: 'live',
      struck: null,
    })
    const { database } = bench.headrace.people
    expect(() => database.exec("UPDATE lesson_record SET record = '{}'")).toThrow(/never changed/)
    expect(() => database.exec('DELETE FROM lesson_record')).toThrow(/never removed/)
  })

  it('takes a remark and a reason for striking out, and keeps the row', async () => {
    await bench.openLesson()
    const phone = await bench.phone('Blue')
    bench.play(1)
    await phone.ask('POST', '/api/seat/records', press('one'))
    await phone.ask('POST', '/api/seat/records/1/remark', { remark: 'pump was noisy' })
    expect((await phone.ask('POST', '/api/seat/records/1/strike', { reason: '' })).status).toBe(400)
    await phone.ask('POST', '/api/seat/records/1/strike', { reason: 'wrong jet' })
    const { records } = (await phone.ask<SeatReply>('GET', '/api/seat')).reply
    expect(records[0]).toMatchObject({ remark: 'pump was noisy', struck: 'wrong jet' })
    const other = await bench.phone('Red')
    expect((await other.ask('POST', '/api/seat/records/1/strike', { reason: 'not mine' })).status).toBe(404)
  })

  it('stores a late press with the figures of its moment and both times, and refuses one that is too late', async () => {
    await bench.openLesson()
    const phone = await bench.phone('Blue')
    bench.play(5)
    const pressedAt = bench.headrace.clock.now()
    const then = bench.figure('activePower').value!
    bench.site.command('jet-4', false)
    bench.play(25)
    expect(bench.figure('activePower').value!).toBeLessThan(0.9 * then)
    await phone.ask('POST', '/api/seat/records', press('late', { ageMs: 25_000 }))
    const row = (await phone.ask<SeatReply>('GET', '/api/seat')).reply.records[0]!
    expect(row.pressedAt).toBe(pressedAt)
    expect(row.storedAt).toBe(pressedAt + 25_000)
    expect(row.figures.find(({ id }) => id === 'activePower')!.value! / then).toBeCloseTo(1, 1)
    expect(row.setting).toMatch(/^jets 1, 2, 3, 4/)
    const late = await phone.ask('POST', '/api/seat/records', press('later', { ageMs: 300_000 }))
    expect(late).toMatchObject({
      status: 409,
      reply: { error: expect.stringMatching(/too late.*2 minutes/) },
    })
  })

  it('says whether the plant held still when a record was marked', async () => {
    await bench.openLesson()
    const phone = await bench.phone('Blue')
    bench.play(2)
    await phone.ask('POST', '/api/seat/records', press('early'))
    bench.play(25)
    await phone.ask('POST', '/api/seat/records', press('steady'))
    bench.site.command('jet-4', false)
    bench.play(4)
    await phone.ask('POST', '/api/seat/records', press('moving'))
    const { records } = (await phone.ask<SeatReply>('GET', '/api/seat')).reply
    expect(records.map(({ steady }) => steady.state)).toEqual(['hold', 'steady', 'hold'])
  })

  it('goes on after a restart with its code, groups, phones, records, freeze and question', async () => {
    const { id, code } = await bench.openLesson()
    const phone = await bench.phone('Blue')
    bench.play(1)
    await phone.ask('POST', '/api/seat/records', press('one'))
    const path = `/api/lessons/${id}`
    await bench.teacher.ask('POST', `${path}/questions`, { text: 'How much?', figure: 'activePower' })
    await phone.ask('POST', '/api/seat/predictions', { question: 1, value: 400 })
    await bench.teacher.ask('POST', `${path}/freeze`, { frozen: true })
    const before = await bench.desk(id)
    await bench.restart()
    const after = await bench.desk(id)
    expect(after.code).toBe(code)
    expect(after.groups).toEqual(before.groups)
    expect(after.view).toMatchObject({
      frozenAt: before.view!.frozenAt,
      question: { number: 1, predicted: 1 },
    })
    const { reply } = await phone.ask<SeatReply>('GET', '/api/seat')
    expect(reply).toMatchObject({ group: { name: 'Blue' }, prediction: { value: 400 } })
    expect(reply.records).toHaveLength(1)
    expect((await phone.ask('POST', '/api/seat/records', press('one'))).reply).toEqual({ number: 1 })
  })

  it('ends by itself after twelve hours: its code is void, records stay for a day', async () => {
    const { code } = await bench.openLesson()
    const phone = await bench.phone('Blue')
    bench.play(1)
    await phone.ask('POST', '/api/seat/records', press('one'))
    bench.headrace.clock.sleep(12 * 3_600_000 + 30_000)
    expect((await bench.stranger().ask('POST', '/api/seat', { code, group: 'X' })).status).toBe(401)
    expect((await phone.ask('POST', '/api/seat/records', press('two'))).status).toBe(409)
    const { reply } = await phone.ask<SeatReply>('GET', '/api/seat')
    expect(reply).toMatchObject({ state: 'ended' })
    expect(reply.records).toHaveLength(1)
    bench.headrace.clock.sleep(24 * 3_600_000 + 60_000)
    expect((await phone.ask('GET', '/api/seat')).status).toBe(401)
    const count = bench.headrace.people.database.prepare('SELECT count(*) AS n FROM lesson_record')
    expect(count.get()).toMatchObject({ n: 1 })
  })

  it('has at most eight beside it', async () => {
    for (let i = 0; i < 8; i++) await bench.openLesson()
    const ninth = await bench.teacher.ask('POST', '/api/plants/quennerby/lessons', { title: 'Ninth' })
    expect(ninth).toMatchObject({
      status: 409,
      reply: { error: expect.stringMatching(/8 lessons are open/) },
    })
  })

  it('sends the phones of a removed group away and keeps its records', async () => {
    const { id } = await bench.openLesson()
    const phone = await bench.phone('Silly')
    bench.play(1)
    await phone.ask('POST', '/api/seat/records', press('one'))
    await bench.teacher.ask('PATCH', `/api/lessons/${id}/groups/1`, { name: 'Green' })
    expect((await phone.ask<SeatReply>('GET', '/api/seat')).reply.group.name).toBe('Green')
    const socket = phone.socket()
    expect(await joinScene(socket, `lesson:${id}`)).toMatchObject({ ok: true })
    const gone = new Promise((resolve) => socket.on('disconnect', resolve))
    await bench.teacher.ask('DELETE', `/api/lessons/${id}/groups/1`)
    await gone
    expect((await phone.ask('GET', '/api/seat')).status).toBe(401)
    const files = unzipSync(await bench.teacher.bytes(`/api/lessons/${id}/pack`))
    expect(strFromU8(files['group-1/records.csv']!).split('\r\n')).toHaveLength(3)
  })

  it('gives each group its own pack, with checksums that hold, and the instructor all of them', async () => {
    const { id } = await bench.openLesson('Pelton, afternoon')
    const [blue, red] = [await bench.phone('Blue'), await bench.phone('Red')]
    bench.play(1)
    await blue.ask('POST', '/api/seat/records', press('blue', { remark: '=1+1' }))
    await red.ask('POST', '/api/seat/records', press('red'))
    const own = unzipSync(await blue.bytes('/api/seat/pack'))
    expect(Object.keys(own).sort()).toEqual([
      'SHA256SUMS',
      'about.txt',
      'predictions.csv',
      'records.csv',
      'records.json',
    ])
    for (const line of strFromU8(own['SHA256SUMS']!).trim().split('\n')) {
      const [sum, name] = line.split('  ')
      expect(createHash('sha256').update(own[name!]!).digest('hex')).toBe(sum)
    }
    const csv = strFromU8(own['records.csv']!)
    expect(csv).toContain("'=1+1")
    expect(csv.split('\r\n')[0]).toContain('activePower [W],activePower U95 [W],activePower quality')
    expect(strFromU8(own['about.txt']!)).toMatch(/Pelton, afternoon[\s\S]*Group 1: Blue/)
    const { records } = JSON.parse(strFromU8(own['records.json']!))
    expect(records).toHaveLength(1)
    expect(records[0].record.figures.length).toBeGreaterThan(50)
    const all = unzipSync(await bench.teacher.bytes(`/api/lessons/${id}/pack`))
    expect(Object.keys(all).filter((name) => name.endsWith('records.csv'))).toEqual([
      'group-1/records.csv',
      'group-2/records.csv',
    ])
  })
})
