import { strFromU8, unzipSync } from 'fflate'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { revealOf } from '../../../server/lessons/predictions.ts'
import type { AlarmView } from '../../../server/wire/alarm.ts'
import type { SeatReply } from '../../../server/wire/lesson.ts'
import type { Snapshot } from '../../../server/wire/plant.ts'
import type { Frame } from '../../../server/wire/socketEvents.ts'
import { type Caller, joinScene, type LessonBench, lessonBench } from '../../support/lessonBench.ts'

describe('a question to a lesson', () => {
  let bench: LessonBench
  let id: number
  let phone: Caller
  const ask = (path: string, body: object) => bench.teacher.ask('POST', `/api/lessons/${id}/${path}`, body)
  const HIDDEN = 'activePower'

  beforeEach(async () => {
    bench = await lessonBench()
    id = (await bench.openLesson()).id
    phone = await bench.phone('Blue')
    bench.play(25)
  })
  afterEach(() => bench.close())

  it('takes one prediction of each group until it is closed, and tells nobody the others before', async () => {
    const red = await bench.phone('Red')
    await ask('questions', { text: 'How much power with jet 4 shut?', figure: HIDDEN })
    const predict = (one: Caller, value: number, u?: number) =>
      one.ask('POST', '/api/seat/predictions', { question: 1, value, ...(u === undefined ? {} : { u }) })
    await predict(phone, 300)
    await predict(phone, 380, 200)
    await predict(red, 100)
    const asked = (await bench.desk(id)).view!.question
    expect(asked).toMatchObject({ state: 'asked', predicted: 2, reveal: null })
    await ask('questions/1/close', {})
    expect((await predict(red, 385)).status).toBe(409)
    await ask('questions/1/reveal', {})
    const { question } = (await bench.desk(id)).view!
    const truth = bench.figure(HIDDEN)
    expect(question).toMatchObject({
      state: 'revealed',
      // mean and median of 100 and 380, by hand
      reveal: { predictions: [100, 380], mean: 240, median: 240, covering: 1, withOwnRange: 1 },
    })
    expect(question!.reveal!.truth).toMatchObject({ value: truth.value, u95: truth.u95, point: null })
    expect((await bench.desk(id)).hidden).toEqual([])
    await phone.ask('POST', '/api/seat/records', { key: 'after-reveal', ageMs: 0 })
    const row = (await phone.ask<SeatReply>('GET', '/api/seat')).reply.records[0]!
    expect(row.prediction).toEqual({ question: 1, value: 380, u: 200 })
    const files = unzipSync(await phone.bytes('/api/seat/pack'))
    const lines = strFromU8(files['predictions.csv']!).trim().split('\r\n')
    expect(lines).toHaveLength(2)
    expect(lines[1]).toContain(`Blue,380,200,${truth.value}`)
  })

  it('keeps the figure hidden until it is revealed: the instructor cannot show it by mistake', async () => {
    await ask('questions', { text: 'How much power?', figure: HIDDEN })
    expect(await ask('arrange', { hidden: [] })).toMatchObject({
      status: 409,
      reply: { error: expect.stringMatching(/Reveal it first/) },
    })
    expect((await ask('questions', { text: 'Another?', figure: 'netHead' })).status).toBe(409)
  })

  it('hides with a figure what follows from it, and names what it could be worked out from', async () => {
    await ask('arrange', { hidden: ['hydraulicPower'] })
    const desk = await bench.desk(id)
    expect(desk.alsoHidden).toContain('turbineEfficiency')
    // P = ρ·g·Q·H: discharge and head are in view
    expect(desk.leads[0]).toMatchObject({ hidden: 'hydraulicPower' })
    expect(desk.leads[0]!.from).toEqual(expect.arrayContaining(['discharge', 'netHead']))
  })

  it('lets no phone have a hidden number: not by frame, snapshot, explanation, record, list or pack', async () => {
    const heard: string[] = []
    const socket = phone.socket()
    await ask('questions', { text: 'How much power?', figure: HIDDEN })
    socket.on('frame', (frame: Frame, done: () => void) => {
      heard.push(JSON.stringify(frame))
      done()
    })
    heard.push(JSON.stringify(await joinScene(socket, `lesson:${id}`)))
    const secrets: number[] = []
    const note = () => {
      const { plan, evaluator } = bench.headrace.live('quennerby')
      const hidden = new Set([HIDDEN, ...alsoHidden, ...alongside])
      const views = plan.nodes.map(({ description: { id: figure }, index }) => ({
        figure,
        ...evaluator.view(index),
      }))
      // a figure in view may have the same value as one that is hidden only because it follows from the hidden one
      const shown = new Set(views.filter(({ figure }) => !hidden.has(figure)).map(({ value }) => value))
      for (const { figure, value, u95 } of views) {
        if (!hidden.has(figure) || (figure !== HIDDEN && shown.has(value))) continue
        // zero and round numbers stand for other things as well
        for (const one of [value, u95]) if (one != null && !Number.isInteger(one)) secrets.push(one)
      }
    }
    const { alsoHidden, hidden: alongside } = await bench.desk(id)
    // two of three nearly equal powers would tell the third
    expect(alongside).toContain('apparentPower')
    expect(alsoHidden.length).toBeGreaterThan(3)
    note()
    await phone.ask('POST', '/api/seat/predictions', { question: 1, value: 1 })
    for (let i = 0; i < 4; i++) {
      const before = heard.length
      // a frame goes out when the receipt of the one before has come
      const frames = () => {
        bench.play(0.5)
        note()
        return heard.length
      }
      await expect.poll(frames).toBeGreaterThan(before)
      await phone.ask('POST', '/api/seat/records', { key: `leak-test-${i}`, ageMs: 0 })
    }
    await ask('freeze', { frozen: true })
    await phone.ask('POST', '/api/seat/records', { key: 'leak-frozen', ageMs: 0 })
    await ask('questions/1/close', {})
    const figures = bench.headrace.live('quennerby').view.figures.map((figure) => figure.id)
    for (const path of [
      '/api/seat',
      '/api/seat/live',
      ...figures.map((one) => `/api/seat/figures/${one}/explain`),
    ]) {
      const { status, reply } = await phone.ask('GET', path)
      expect(status, path).toBe(200)
      heard.push(JSON.stringify(reply))
    }
    for (const bytes of Object.values(unzipSync(await phone.bytes('/api/seat/pack'))))
      heard.push(strFromU8(bytes))
    // what the plant file says of the rig is no measurement
    const all = heard.join('\n').replaceAll(bench.headrace.live('quennerby').view.summary, '')
    expect(all.length).toBeGreaterThan(100_000)
    expect(secrets.length).toBeGreaterThan(10)
    for (const secret of secrets) {
      expect(all).not.toContain(String(secret))
      // as the sentence of a state would have it: rounded to the watt
      if (Math.abs(secret) > 100) expect(all).not.toMatch(new RegExp(`\\b${Math.round(secret)} W`))
    }
    const { reply } = await phone.ask<Snapshot>('GET', '/api/seat/live')
    const index = reply.plant.figures.findIndex((one) => one.id === HIDDEN)
    expect(reply.values[index]).toEqual({
      value: null,
      at: null,
      quality: 'uncertain',
      reasons: ['hidden until it is revealed'],
    })
    expect(reply.scene!.hidden).toContain(HIDDEN)
  })

  it('keeps everything still while it is frozen, and says from when it is', async () => {
    const index = bench.headrace.live('quennerby').view.figures.findIndex((one) => one.id === HIDDEN)
    const value = async () => (await phone.ask<Snapshot>('GET', '/api/seat/live')).reply
    await ask('freeze', { frozen: true })
    const at = bench.headrace.clock.now()
    const first = await value()
    bench.site.command('jet-4', false)
    bench.play(10)
    const later = await value()
    expect(later.values).toEqual(first.values)
    expect(later.scene!.lesson).toMatchObject({
      frozenAt: at,
      setting: expect.stringMatching(/^jets 1, 2, 3, 4/),
    })
    await phone.ask('POST', '/api/seat/records', { key: 'frozen-row', ageMs: 0 })
    const row = (await phone.ask<SeatReply>('GET', '/api/seat')).reply.records[0]!
    expect(row).toMatchObject({ shown: 'frozen', shownAt: at })
    await ask('freeze', { frozen: false })
    bench.play(1)
    expect((await value()).values[index]!.value).not.toBe(first.values[index]!.value)
  })

  it('lets an over-speed through at once, also while frozen and hidden, without its number', async () => {
    await ask('arrange', { hidden: ['speed'] })
    await ask('freeze', { frozen: true })
    const socket = phone.socket()
    await joinScene(socket, `lesson:${id}`)
    const notice = new Promise((resolve) => socket.once('alarm', resolve))
    const over = bench.headrace
      .live('quennerby')
      .board.views()
      .find(({ kind }) => kind === 'overSpeed')!
    const { happenings } = bench.headrace.pageSide.mirror
    const tell = (alarm: AlarmView) => happenings.transition.call({ plant: 'quennerby', alarm })
    tell({ ...over, state: 'unacknowledged', active: true, value: 190, peak: 191 })
    expect(await notice).toMatchObject({
      plant: `lesson:${id}`,
      alarm: { id: over.id, state: 'unacknowledged', value: null, peak: null },
    })
    const low = bench.headrace
      .live('quennerby')
      .board.views()
      .find(({ priority, kind }) => priority === 'low' && kind !== 'overSpeed')
    if (low) {
      const heard: unknown[] = []
      socket.on('alarm', (one) => heard.push(one))
      tell(low)
      tell({ ...over, value: 200 })
      await expect.poll(() => heard.length).toBe(1)
    }
    const { alarms } = (await phone.ask<Snapshot>('GET', '/api/seat/live')).reply
    expect(alarms.length).toBeGreaterThan(0)
    expect(alarms.every(({ priority, kind }) => priority === 'high' || kind === 'overSpeed')).toBe(true)
  })
})

describe('revealOf', () => {
  const truth = { value: 0.7, u95: 0.01, at: 0, point: null, setting: '' }
  const groups = (...values: number[]) => values.map((value, group) => ({ group, value, u: null }))

  it('counts predictions within value ± U95, ends included (by hand)', () => {
    const { mean, median, within, predictions } = revealOf(
      { ...truth, value: 8, u95: 2 },
      groups(12, 6, 10, 10.5),
    )
    expect({ mean, median, within }).toEqual({ mean: 9.625, median: 10.25, within: 2 })
    expect(predictions).toEqual([6, 10, 10.5, 12])
  })

  it('has no mean and no median without predictions', () => {
    expect(revealOf(truth, [])).toMatchObject({ mean: null, median: null, within: 0 })
  })

  it('takes the middle one of an odd number (by hand)', () => {
    expect(revealOf(truth, groups(3, 1, 2)).median).toBe(2)
  })
})
