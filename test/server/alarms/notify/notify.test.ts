import { afterEach, describe, expect, it } from 'vitest'
import { manualClock } from '../../../support/manualClock.ts'
import { scratchState, WEDNESDAY } from '../../../support/notifyBench.ts'
import { type NotifyRig, notifyRig, type RigWish } from '../../../support/notifyRig.ts'

const MINUTE = 60_000
const HOUR = 60 * MINUTE

/** Everybody over MQTT, whose test broker takes everything at once. */
const yaml = (more = '') => `
channels: [{ id: bus, kind: mqtt }]
recipients:
  - { id: anna, name: Anna, by: [{ channel: bus }] }
  - { id: bert, name: Bert, by: [{ channel: bus }] }
rules:
  - { to: [anna], ladder: [{ after: 10 min, to: [bert] }] }
${more}`

describe('notifications from alarm to message', { timeout: 90_000 }, () => {
  let rig: NotifyRig
  const start = (more = '', wish: RigWish = {}) => {
    rig = notifyRig(yaml(more), wish)
    return rig
  }
  afterEach(async () => {
    await rig.close()
    rig.state.close()
  })
  const sent = (kind?: string) => rig.deliveries(kind).filter((one) => one.status === 'sent')
  const who = () => sent().map((one) => one.recipient)

  it('climb the ladder until somebody acknowledges', async () => {
    start()
    rig.speed(1770)
    await rig.pass(9 * MINUTE, 9)
    expect(who()).toEqual(['anna'])
    await rig.pass(2 * MINUTE, 4)
    expect(who().sort()).toEqual(['anna', 'bert'])
    const texts = rig.broker.published.map(({ payload }) => JSON.parse(payload).data.text as string)
    // the first message is as old as the alarm; what comes later says how it is by then
    expect(texts.map((text) => text.includes('\nNow: Over-speed'))).toEqual([false, true])
    expect(texts[1]).toContain('The alarm is active and not acknowledged.')
  })

  it('stop climbing when somebody acknowledges, and say by whom', async () => {
    start()
    rig.speed(1770)
    await rig.pass(MINUTE)
    rig.live.board.act('over', { event: 'acknowledge' }, { by: 'Anna', at: rig.clock.now() })
    await rig.pass(15 * MINUTE, 15)
    expect(sent('raised').map((one) => one.recipient)).toEqual(['anna'])
    expect(rig.deliveries().find((one) => one.recipient === 'bert')).toMatchObject({
      status: 'cancelled',
      reason: 'acknowledge by Anna',
    })
  })

  it('go on climbing for an alarm that comes and goes', async () => {
    start()
    for (let i = 0; i < 11; i++) {
      rig.speed(1770)
      rig.speed(1500)
      await rig.pass(MINUTE)
    }
    await rig.pass(MINUTE)
    expect(sent('raised').filter((one) => one.recipient === 'bert')).toHaveLength(1)
  })

  it('remind of an acknowledged alarm that is still active after half an hour, but not after it returned', async () => {
    start()
    rig.speed(1770)
    rig.live.board.act('over', { event: 'acknowledge' }, { by: 'Anna', at: rig.clock.now() })
    await rig.pass(31 * MINUTE, 31)
    expect(sent('stillActive')).toHaveLength(1)
    rig.speed(1500)
    rig.speed(1770)
    rig.live.board.act('over', { event: 'acknowledge' }, { by: 'Anna', at: rig.clock.now() })
    rig.speed(1500)
    await rig.pass(31 * MINUTE, 31)
    expect(sent('stillActive')).toHaveLength(1)
  })

  it('call again when an acknowledged alarm passes a further tenth of its limit, once for each', async () => {
    start()
    rig.speed(1700)
    rig.live.board.act('over', { event: 'acknowledge' }, { by: 'Anna', at: rig.clock.now() })
    await rig.pass(3000, 3)
    // limit 1650 min⁻¹; the first level above it begins at 1815
    for (const n of [1800, 1820, 1830]) {
      rig.speed(n)
      await rig.pass(3000, 3)
    }
    expect(sent('worse')).toHaveLength(1)
    expect(sent('worse')[0]!.short).toMatch(/^WORSE: Upper mill: Over-speed 18[23]0 min⁻¹/)
    await rig.pass(11 * MINUTE, 11)
    expect(
      sent('worse')
        .map((one) => one.recipient)
        .sort(),
    ).toEqual(['anna', 'bert'])
  })

  it('say when it is back to normal', async () => {
    start()
    rig.power(5)
    rig.speed(1770)
    rig.speed(1500)
    await rig.pass(29_000, 29)
    expect(sent('returned')).toEqual([])
    await rig.pass(3000, 6)
    expect(sent('returned').map((one) => one.short)).toEqual([
      'Over: Upper mill: Over-speed. It reached 1770 min⁻¹. Lasted 0 s. At 14:00:30 GMT: Making 5000 W.',
    ])
  })

  it('do not call it over while the machine turns and nobody knows what it makes', async () => {
    start()
    rig.speed(1770)
    rig.speed(1500)
    await rig.pass(HOUR, 60)
    expect(sent('returned')).toEqual([])
  })

  it('tell two alarms that come and go 150 times in a minute once each, and that each is over', async () => {
    start()
    for (let i = 0; i < 75; i++) {
      rig.speed(1770)
      rig.power(0.5)
      await rig.pass(400)
      rig.speed(1500)
      rig.power(5)
      await rig.pass(400)
    }
    expect(rig.journal.newest('mill', { limit: 1000 })).toHaveLength(300)
    await rig.pass(MINUTE, 60)
    const told = sent().filter((one) => one.recipient === 'anna' && one.kind !== 'followed')
    expect(told.map(({ alarm, kind }) => `${alarm} ${kind}`).sort()).toEqual([
      'over raised',
      'over returned',
      'weak raised',
      'weak returned',
    ])
  })

  it('gather low priority into one message in the morning', async () => {
    start(`digest: { at: '07:00', to: [bert] }`)
    rig.power(14.5)
    rig.power(5)
    await rig.pass(16 * HOUR, 20)
    expect(sent('digest')).toEqual([])
    await rig.pass(1.1 * HOUR, 80)
    expect(sent('digest').map((one) => one.recipient)).toEqual(['bert'])
    expect(JSON.parse(rig.broker.published.at(-1)!.payload).data.text).toMatch(
      /Power high: 14.5 kW\n.*back to normal/,
    )
  })

  it('go on after a restart where they were: nothing twice, the ladder at its time', async () => {
    const state = scratchState()
    const clock = manualClock(WEDNESDAY)
    start('', { state, clock })
    rig.speed(1770)
    await rig.pass(5 * MINUTE, 5)
    await rig.close()
    start('', { state, clock })
    await rig.pass(4 * MINUTE, 4)
    expect(rig.broker.published).toEqual([])
    await rig.pass(2 * MINUTE, 4)
    expect(rig.broker.published.map(({ payload }) => JSON.parse(payload).data.recipient)).toEqual(['Bert'])
  })

  it('are sent even while the disk takes no writes', async () => {
    start()
    rig.power(5)
    rig.state.database.pragma('query_only = ON')
    rig.speed(1770)
    await rig.pass(1000, 4)
    expect(rig.broker.published).toHaveLength(1)
    rig.state.database.pragma('query_only = OFF')
    rig.speed(1500)
    await rig.pass(61_000, 4)
    expect(
      sent()
        .map((one) => one.kind)
        .sort(),
    ).toEqual(['raised', 'returned'])
  })

  it('name the high alarms that no rule sends to anybody', () => {
    rig = notifyRig(yaml().replace('{ to: [anna],', '{ alarms: [weak], to: [anna],'))
    expect(rig.notify.view().uncovered).toEqual([{ plant: 'mill', alarm: 'over' }])
  })
})

describe('the weekly test', () => {
  const TEST = `weeklyTest: { day: wednesday, at: '15:00', to: [anna], answerWithin: 2 h }`
  let rig: NotifyRig
  afterEach(async () => {
    await rig.close()
    rig.state.close()
  })
  const tests = (kind: string) => rig.deliveries(kind).map((one) => [one.recipient, one.status])
  /** Mail, since only a person can confirm; nobody listens at the port. */
  const byMail = `
channels: [{ id: mail, kind: email, host: 127.0.0.1, port: 1, from: a@plant.example, security: none }, { id: bus, kind: mqtt }]
recipients:
  - { id: anna, name: Anna, by: [{ channel: mail, to: anna@plant.example }] }
  - { id: bert, name: Bert, by: [{ channel: bus }] }
${TEST}`

  it('is sent at its local time and told to everybody when nobody confirms it', async () => {
    rig = notifyRig(byMail)
    expect(new Date(rig.notify.view().nextTestAt!).toISOString()).toBe('2026-11-25T15:00:00.000Z')
    await rig.pass(0.9 * HOUR, 10)
    expect(tests('test')).toEqual([])
    await rig.pass(0.2 * HOUR, 10)
    expect(tests('test').map(([recipient]) => recipient)).toEqual(['anna'])
    await rig.pass(2 * HOUR, 10)
    expect(
      rig
        .deliveries('testUnanswered')
        .map((one) => one.recipient)
        .sort(),
    ).toEqual(['anna', 'bert'])
    expect(rig.deliveries('testUnanswered')[0]!.short).toMatch(/^1 test message was not confirmed/)
  })

  it('that fell into weeks without a server is caught up once', async () => {
    const state = scratchState()
    rig = notifyRig(byMail, { state, clock: manualClock(WEDNESDAY) })
    await rig.pass(2000, 2)
    await rig.close()
    rig = notifyRig(byMail, { state, clock: manualClock(WEDNESDAY + 25 * 24 * HOUR) })
    await rig.pass(5000, 5)
    expect(tests('test')).toHaveLength(1)
  })

  it('is not sent by a server that was never there before', async () => {
    rig = notifyRig(byMail)
    await rig.pass(5000, 5)
    expect(tests('test')).toEqual([])
  })
})
