import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../../server/history/grid.ts'
import type { HistoryReader } from '../../../server/history/store.ts'
import { historyAtNoon, NOON } from '../../support/historyFolder.ts'
import { memoryStore } from '../../support/memoryHistory.ts'
import { batchOf, columnByHand, type Sample } from '../../support/rangeModel.ts'

const TODAY = NOON - DAY_MS / 2
const FIRST = TODAY - 3 * DAY_MS
const SIGNALS = ['mill/netHead', 'mill/speed', "mill/o'dd \u{1F30A} name"]

/** Times are drawn to lie on the edges of minutes, hours, days and buckets more often than chance would have it. */
const instant = fc.oneof(
  fc.integer({ min: FIRST, max: NOON }),
  fc.integer({ min: 0, max: 84 * 60 }).map((minute) => FIRST + minute * MINUTE_MS),
  fc.integer({ min: 0, max: 84 }).map((hour) => FIRST + hour * HOUR_MS - 1),
  fc.integer({ min: 0, max: 3 }).map((day) => FIRST + day * DAY_MS),
)

const sample: fc.Arbitrary<Sample> = fc.record({
  signal: fc.constantFrom(...SIGNALS),
  at: instant,
  value: fc.oneof(
    { weight: 9, arbitrary: fc.double({ min: -1e6, max: 1e6, noNaN: true }) },
    { weight: 1, arbitrary: fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY) },
  ),
  quality: fc.constantFrom(0, 0, 0, 1, 2),
})

/** What happens in order: rows come, days are sealed, time goes by. Rows after a sealing are late ones. */
const step = fc.oneof(
  { weight: 4, arbitrary: fc.record({ samples: fc.array(sample, { minLength: 1, maxLength: 60 }) }) },
  { weight: 1, arbitrary: fc.constant('flush' as const) },
  { weight: 1, arbitrary: fc.constant('seal' as const) },
)

const query = fc
  .record({
    from: instant,
    span: fc.oneof(fc.integer({ min: 1, max: 4 * DAY_MS }), fc.constantFrom(HOUR_MS, DAY_MS)),
    points: fc.oneof(fc.integer({ min: 1, max: 400 }), fc.constantFrom(1, 24, 1440)),
  })
  .map(({ from, span, points }) => ({ signals: SIGNALS, from, to: from + span, points }))

const history = fc.record({
  steps: fc.array(step, { minLength: 1, maxLength: 8 }),
  queries: fc.array(query, { minLength: 4, maxLength: 4 }),
})

async function expectAsByHand(
  store: HistoryReader,
  samples: readonly Sample[],
  range: { signals: string[]; from: number; to: number; points: number },
): Promise<void> {
  const reply = await store.query(range)
  for (const { signal, min, mean, max, count } of reply.columns) {
    columnByHand(samples, signal, { reply, ...range }).forEach((hand, i) => {
      expect([min[i], max[i], count[i]]).toEqual([hand.min, hand.max, hand.count])
      // sums in another order differ in the last digits
      if (hand.count === 0) expect(mean[i]).toBeNaN()
      else
        expect(Math.abs(mean[i]! - hand.mean)).toBeLessThanOrEqual(
          1e-9 * (1 + Math.max(Math.abs(hand.min), Math.abs(hand.max))),
        )
    })
  }
}

describe('an answer of history', () => {
  it('is what the samples give by hand, from the memory store', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(sample, { maxLength: 200 }), query, async (samples, range) => {
        const store = memoryStore()
        store.append(batchOf(samples))
        await expectAsByHand(store, samples, range)
      }),
      { numRuns: 60 },
    )
  })

  it('is what the samples give by hand, wherever the embedded store keeps them', async () => {
    await fc.assert(
      fc.asyncProperty(history, async ({ steps, queries }) => {
        const { store, samples } = await live(steps)
        for (const range of queries) await expectAsByHand(store, samples, range)
        await store.flush()
        expect(await store.maintain()).toBeUndefined()
        for (const range of queries) await expectAsByHand(store, samples, range)
        await store.close()
      }),
      { numRuns: 25 },
    )
  }, 240_000)
})

async function live(steps: readonly (typeof step extends fc.Arbitrary<infer T> ? T : never)[]) {
  // few rows per file, so that days are cut as well
  const { store } = await historyAtNoon({ rowsPerFile: 40 })
  const samples: Sample[] = []
  for (const one of steps) {
    if (one === 'flush') await store.flush()
    else if (one === 'seal') expect(await store.maintain()).toBeUndefined()
    else {
      store.append(batchOf(one.samples))
      samples.push(...one.samples)
    }
  }
  return { store, samples }
}
