import { systemClock } from '../../server/clock.ts'
import { createIngest, type Ingest } from '../../server/ingest/ingest.ts'
import type { JournalEntry } from '../../server/wire/alarm.ts'
import type { EventRecord } from '../../server/wire/event.ts'
import type { FigureValue } from '../../server/wire/figure.ts'
import { createSite, type Site, type SiteOptions } from '../../simulator/site.ts'
import { memoryJournal } from './alarmBench.ts'
import { livePlantOf, type TestPlant } from './livePlantOf.ts'
import { START } from './manualClock.ts'
import { memoryBroker } from './memoryBroker.ts'

/** A simulated plant and the server's view of it in one process: messages between them, but no network and no waiting. */
export interface PlayedPlant {
  site: Site
  live: TestPlant
  ingest: Ingest
  journal: ReturnType<typeof memoryJournal>
  /** Event records by id, as last stored. */
  events: Map<string, EventRecord>
  /** Lets plant and server run for this long [s], messages every 20 ms and figures every 200 ms unless told otherwise. */
  run(seconds: number): void
  figure(id: string): FigureValue
  truth(id: string): number
  now(): number
}

/** Times between two looks for messages and two evaluations [ms]. */
const LIFELIKE = { messageMs: 20, tickMs: 200 }

export interface PlayOptions {
  messageMs: number
  tickMs: number
  /** Instruments that the server does not know of; its alarms go with them. */
  without?: readonly string[]
  /** Called with each line of the journal as it is written. */
  onEntry?: (entry: JournalEntry) => void
}

export function playPlant(
  id: string,
  options: SiteOptions = {},
  { messageMs, tickMs, without = [], onEntry = () => {} }: PlayOptions = LIFELIKE,
): PlayedPlant {
  const site = createSite(id, options)
  const broker = memoryBroker()
  const journal = memoryJournal(onEntry)
  const events = new Map<string, EventRecord>()
  let now = START
  const instruments = site.plant.instruments.filter((one) => !without.includes(one.id))
  const known = without.length === 0 ? site.plant : { ...site.plant, instruments, alarms: [] }
  const live = livePlantOf(known, {
    journal,
    events: { save: (record) => events.set(record.id, structuredClone(record)).size > 0 },
    mono: () => now,
  })
  live.setConnected(true)
  const clock = { ...systemClock, now: () => now, mono: () => now }
  const ingest = createIngest({ plants: [known], broker, clock, onReading: live.takeReading })
  return {
    site,
    live,
    ingest,
    journal,
    events,
    run(seconds) {
      const end = now + seconds * 1000
      while (now < end) {
        now += messageMs
        site.step(messageMs / 1000)
        for (const { topic, payload } of site.messages(now))
          broker.deliver({ topic, payload, receivedAt: now })
        if (now % tickMs === 0) live.tick(now)
      }
    },
    figure: (figure) => live.evaluator.view(live.plan.indexOf.get(figure)!),
    truth: (figure) => site.truth().get(figure) ?? Number.NaN,
    now: () => now,
  }
}
