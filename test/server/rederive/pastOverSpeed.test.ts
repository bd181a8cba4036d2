import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { BEGIN, type LateRun, lateRun, STEP, truthAt, type Values } from '../../support/lateRun.ts'

const MINUTE = 60_000
/** While nobody heard of the machine it ran away: 130 % of its rated speed, for ten seconds. */
const RAN_AWAY = BEGIN + 4 * MINUTE
const ran = (at: number): Values => ({
  ...truthAt(at),
  speed: at >= RAN_AWAY && at < RAN_AWAY + 10_000 ? 1950 : 1500,
})
const away = { from: BEGIN + 3 * MINUTE, to: BEGIN + 6 * MINUTE }

// What is checked is a rule of the house: over-speed is told at once and once, and what is past never looks live.
describe('an over-speed of which the readings come late', () => {
  let run: LateRun
  beforeEach(async () => {
    run = await lateRun()
  })
  afterEach(() => run.headrace.close())

  const view = () =>
    run.headrace
      .live('mill')
      .board.views()
      .find(({ id }) => id === 'over-speed-120')!
  const entries = () =>
    run.headrace.watch.journal.newest('mill', { limit: 50 }).filter(({ alarm }) => alarm === 'over-speed-120')

  it.each([
    ['in their order, as soon as the line is back', { sentAt: BEGIN + 8 * MINUTE }],
    ['the other way round', { sentAt: BEGIN + 8 * MINUTE, isReversed: true }],
    ['twice', { sentAt: BEGIN + 8 * MINUTE, isTwice: true }],
    ['before any reading of now', { sentAt: BEGIN + 6 * MINUTE + STEP }],
  ])('is told once, as past, where they come %s', async (_, more) => {
    const seen: boolean[] = []
    const truth = (at: number) => ran(at)
    await run.goOn(BEGIN + 9 * MINUTE, [{ ...away, ...more }], truth)
    seen.push(view().active)
    const [told, ...others] = entries()
    expect(others).toEqual([])
    expect(told).toMatchObject({ event: 'toldLate', alarm: view().id })
    expect(told!.at).toBeGreaterThanOrEqual(RAN_AWAY)
    expect(told!.at).toBeLessThan(RAN_AWAY + 10_000)
    expect(told!.note).toMatch(/^told late, at /)
    expect(view()).toMatchObject({ active: false, state: 'returnedUnacknowledged' })
    const records = run.headrace.watch.events.list('mill', 10)
    expect(records).toHaveLength(1)
    const record = run.headrace.watch.events.find('mill', records[0]!.id)!
    expect(record.status).toBe('complete')
    expect(record.peak!.speed).toBeCloseTo((1950 * 2 * Math.PI) / 60, 6)
  })

  it('is not told again after a restart, nor where it was told live', async () => {
    await run.goOn(BEGIN + 9 * MINUTE, [{ ...away, sentAt: BEGIN + 8 * MINUTE }], ran)
    await run.headrace.restart()
    for (let at = away.from; at < away.to; at += STEP) run.send(at, ran(at))
    expect(entries()).toHaveLength(1)
    const live = BEGIN + 12 * MINUTE
    await run.goOn(live + 3 * MINUTE, [], (at) => ({
      ...truthAt(at),
      speed: at >= live && at < live + 10_000 ? 1950 : 1500,
    }))
    expect(entries().map(({ event }) => event)).toEqual(['return', 'raise', 'toldLate'])
    for (let at = live; at < live + 10_000; at += STEP) run.send(at, { speed: 1950 })
    expect(entries()).toHaveLength(3)
  })

  it('waits for whoever answers, and then is gone', async () => {
    await run.goOn(BEGIN + 9 * MINUTE, [{ ...away, sentAt: BEGIN + 8 * MINUTE }], ran)
    const { board } = run.headrace.live('mill')
    board.act(view().id, { event: 'acknowledge' }, { by: 'Ada', at: run.headrace.clock.now() })
    expect(view()).toMatchObject({ state: 'normal', active: false })
  })
})
