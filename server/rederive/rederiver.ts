import type { Clock } from '../clock.ts'
import { HELD_MS } from '../derive/integrate.ts'
import type { HistoryStore } from '../history/store.ts'
import type { Reading } from '../ingest/reading.ts'
import type { LivePlant } from '../livePlant.ts'
import type { Tell } from '../log.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { Deriver } from './deriver.ts'
import type { LateQuarters, LateSpan } from './lateQuarters.ts'

/** Sees to it that what came late counts: figures, tiers, counters and days of its span are derived anew beside what goes on live. */
export interface Rederiver {
  /** Notes what is to be derived anew because of a reading that came after its figures. */
  takeReading(reading: Reading): void
  /** Begins with the next span that is due; call once a second, before readings are handed to the store. */
  everySecond(): void
  queue(): QueueHealth
  close(): Promise<void>
}

export interface RederiverOptions {
  late: LateQuarters
  deriver: Deriver
  plants: ReadonlyMap<string, LivePlant>
  history: Pick<HistoryStore, 'flush' | 'rewrite'>
  clock: Clock
  tell: Tell
}

/** What is sent only on change counts until the next one; so far [ms] it is derived anew. */
const SPARSE_REACH_MS = 86_400_000
const FIRST_DELAY_MS = 10_000
/** So often in a row it is tried before a span is given up. */
const MOST_ATTEMPTS = 5

export function createRederiver(options: RederiverOptions): Rederiver {
  const { late, deriver, plants, history, clock, tell } = options
  let underWay: Promise<void> | undefined
  let isClosed = false
  let notBefore = Number.NEGATIVE_INFINITY
  let attempts = 0

  function takeReading(reading: Reading): void {
    if (!reading.overdue || reading.ageUnknown) return
    const plant = plants.get(reading.plant)?.plant
    const instrument = plant?.instruments.find(({ id }) => id === reading.instrument)
    if (!instrument) return
    const { measuredAt, receivedAt } = reading
    const reach = instrument.periodic ? Math.max(HELD_MS, instrument.staleAfterMs) : HELD_MS
    const until = instrument.periodic ? measuredAt : Math.min(receivedAt, measuredAt + SPARSE_REACH_MS)
    late.note(reading.plant, { from: Math.max(0, measuredAt - reach), to: until + reach })
  }

  async function derive(span: LateSpan): Promise<void> {
    const { plant } = plants.get(span.plant)!
    try {
      await history.flush()
      const task = { plant, from: span.from, to: span.to, now: clock.now() }
      const derived = await deriver.derive(task, history.rewrite)
      const live = plants.get(span.plant)
      // a plant file that changed meanwhile may say something else of that time
      if (isClosed || live?.plant !== plant) return
      if ('waitsUntil' in derived) late.putOff(span, derived.waitsUntil)
      else if (live.counters.recount(derived.recounts, () => late.writeDone(span))) late.forget(span)
      else throw new Error('the counters could not be stored')
      attempts = 0
    } catch (error) {
      if (!isClosed) fail(span, error instanceof Error ? error.message : String(error))
    }
  }

  function fail(span: LateSpan, reason: string): void {
    attempts++
    notBefore = clock.mono() + FIRST_DELAY_MS * 2 ** attempts
    const [from, to] = [span.from, span.to].map((at) => new Date(at).toISOString())
    const isLast = attempts >= MOST_ATTEMPTS
    tell(
      `Late readings of ${span.plant} from ${from} to ${to} could not be derived anew: ${reason}; ${isLast ? 'they are left as they were recorded' : 'it is tried again'}.`,
      'warn',
    )
    if (!isLast) return
    attempts = 0
    late.giveUp(span)
  }

  return {
    takeReading,
    everySecond() {
      late.store()
      if (underWay || isClosed || clock.mono() < notBefore) return
      const span = late.next(clock.now(), (plant) => plants.has(plant))
      if (!span) return
      underWay = derive(span).finally(() => {
        underWay = undefined
      })
    },
    queue: late.queue,
    async close() {
      isClosed = true
      late.store()
      await deriver.close()
      await underWay
    },
  }
}
