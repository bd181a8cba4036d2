import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { BEGIN, type LateRun, LENGTH, lateRun, type Outage } from '../../support/lateRun.ts'

const MINUTE = 60_000
const END = BEGIN + LENGTH
/** By then every quarter is over that late readings may touch. */
const SETTLED = END + 20 * MINUTE
const COUNTERS = ['energyGenerated', 'waterVolume', 'runSeconds', 'starts']
const FIGURES = ['plantEfficiency', 'availablePower', 'frequency', 'speedSlope']

function random(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296
    return state / 4_294_967_296
  }
}

function drawnOutages(seed: number): Outage[] {
  const next = random(seed)
  const starts = [BEGIN + (2 + 8 * next()) * MINUTE, BEGIN + (25 + 4 * next()) * MINUTE]
  return starts.map((from) => {
    const to = from + (0.5 + 11 * next()) * MINUTE
    const wait = next() < 0.5 ? 4000 : (3 + 20 * next()) * MINUTE
    return { from, to, sentAt: to + wait, isReversed: next() < 0.5, isTwice: next() < 0.5 }
  })
}

const totals = (run: LateRun) =>
  COUNTERS.map((id) => ({
    ...run.headrace
      .live('mill')
      .counters.views()
      .find((one) => one.id === id)!,
    days: run.days(id),
  }))

// The expectation is the same run without an outage: its figures and counters are held against outside sources elsewhere.
describe('what comes late', () => {
  let whole: LateRun
  let run: LateRun
  beforeAll(async () => {
    whole = await lateRun()
    await whole.goOn(SETTLED)
  })
  afterAll(() => whole.headrace.close())
  afterEach(() => run.headrace.close())

  it.each([2, 5, 6])(
    'counts as if it had come in time: totals, days and figures (%i)',
    async (seed) => {
      run = await lateRun()
      const outages = drawnOutages(seed)
      await run.goOn(SETTLED, outages)
      const queue = run.headrace.watch.health.reply().queues.find(({ name }) => name.startsWith('quarters'))!
      expect(queue).toMatchObject({ length: 0, dropped: 0 })
      const [found, expected] = [totals(run), totals(whole)]
      for (const [i, one] of expected.entries()) {
        const { id, value, gapSeconds } = one
        expect(Math.abs(found[i]!.value - value), id).toBeLessThanOrEqual(Math.max(0.02 * (one.u95 ?? 0), 3))
        expect(Math.abs(found[i]!.gapSeconds - gapSeconds), id).toBeLessThan(1)
        for (const [n, day] of one.days.entries()) {
          const allowed = Math.max(0.02 * (day.u95 ?? 0), 3)
          expect(Math.abs(found[i]!.days[n]!.value - day.value), `${id} ${n}`).toBeLessThanOrEqual(allowed)
          expect(Math.abs(found[i]!.days[n]!.gapSeconds - day.gapSeconds), `${id} ${n}`).toBeLessThan(1)
        }
      }
      for (const figure of FIGURES)
        for (const { from, to } of outages) {
          const span: [number, number] = [from + 10_000, to - 10_000]
          const [known, anew] = [await whole.figure(figure, span), await run.figure(figure, span)]
          expect(anew.map(([at]) => at)).toEqual(known.map(([at]) => at))
          for (const [n, [, value]] of known.entries()) expect(anew[n]![1]).toBeCloseTo(value, 6)
        }
    },
    60_000,
  )

  it('waits in health until its quarter of an hour is over, and across a restart', async () => {
    run = await lateRun()
    const outage = { from: BEGIN + 3 * MINUTE, to: BEGIN + 5 * MINUTE, sentAt: BEGIN + 6 * MINUTE }
    await run.goOn(BEGIN + 8 * MINUTE, [outage])
    const waiting = () =>
      run.headrace.watch.health.reply().queues.find(({ name }) => name.startsWith('quarters'))!.length
    expect(waiting()).toBe(1)
    await run.headrace.restart()
    expect(waiting()).toBe(1)
    await run.goOn(BEGIN + 18 * MINUTE)
    expect(waiting()).toBe(0)
    const gap = run.days('waterVolume').reduce((sum, day) => sum + day.gapSeconds, 0)
    expect(gap).toBeLessThan(2)
  })
})
