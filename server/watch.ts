import { createEventStore, type EventStore } from './alarms/events/eventStore.ts'
import { createFloodWatch } from './alarms/flood.ts'
import { createJournal, type Journal, type JournalKeeping, MOST_ENTRIES } from './alarms/journal.ts'
import { type Notify, openNotify } from './alarms/notify/openNotify.ts'
import { createFeed, type Feed } from './channel/feed.ts'
import { createCounterStore } from './derive/counterStore.ts'
import type { Edges } from './edges.ts'
import { createHealth, type Health } from './health.ts'
import { createRecorder, type Recorder } from './history/recorder.ts'
import { createIngest } from './ingest/ingest.ts'
import { createLivePlant, type LivePlant, type LivePlantOptions, replaceLivePlants } from './livePlant.ts'
import type { Plant } from './plant/plant.ts'
import { createMqttOut } from './push/mqttOut.ts'
import { createLateQuarters } from './rederive/lateQuarters.ts'
import { createRederiver, type Rederiver } from './rederive/rederiver.ts'
import { createSparseLog } from './sparseLog.ts'

/**
 * Everything that must go on at two in the morning: broker, readings, figures, counters, alarms with their journal and
 * outbox, and the way into history. It knows nothing of pages and of those who look at them.
 */
export interface Watch {
  plants: ReadonlyMap<string, LivePlant>
  /** What the page side hears. */
  feed: Feed
  journal: Journal
  events: EventStore
  notify: Notify
  health: Health
  /** Takes changed plants over while everything runs. */
  replacePlants(plants: readonly Plant[]): void
  /** Changed plant files were not taken over. */
  refusePlants(complaints: readonly string[]): void
  /** Begins to tick and to send messages; their links lead to the page at `url`. */
  start(url: string): void
  /** Stops listening, and stores what is in hand. */
  close(): Promise<void>
}

/** How often the journal is looked at for what is kept no longer [ms]. */
const SHORTEN_MS = 60_000

export function createWatch(edges: Edges): Watch {
  const { clock, options, plants: files, state, history, broker, tell, lastFault = null, certificate } = edges
  const plants = new Map<string, LivePlant>()
  const notify = openNotify(options, { state, clock, plants: () => plants, broker: () => broker, tell })
  const journal = createJournal(state, notify.alongside, keepingOf(options))
  const events = createEventStore(state)
  const recorder = createRecorder(history)
  const rederiver = openRederiver(edges, plants)
  const mqttOut = options.publishFigures ? createMqttOut(broker) : undefined
  const counts = { transitions: 0, evaluations: 0 }
  const live: LivePlantOptions = {
    journal,
    events,
    flood: createFloodWatch(),
    counterStore: createCounterStore(state),
    mono: clock.mono,
    onTransition(plant, alarm, entry) {
      counts.transitions++
      feed.alarm(plant, alarm)
      mqttOut?.alarm(plant, alarm, entry)
    },
  }
  for (const plant of files) plants.set(plant.id, createLivePlant(plant, live))
  const ingest = createIngest({
    plants: files,
    broker,
    clock,
    listUnmapped: options.mqttUrl === null,
    onReading(reading) {
      const settled = plants.get(reading.plant)?.takeReading(reading) ?? [reading]
      for (const one of settled) recorder.takeReading(one)
      rederiver.takeReading(reading)
      feed.takeReading(reading)
    },
  })
  const feed: Feed = createFeed({ plants: () => plants, source: broker.status, health: () => health.line() })
  const parts = { clock, broker, ingest, history, recorder, journal, notify, state, feed }
  const health = createHealth({
    ...parts,
    counts,
    lastFault,
    certificate,
    plants: () => [...plants.values()].map(({ plant }) => plant),
    logQueue: edges.logQueue,
    lateQueue: rederiver.queue,
  })
  broker.onStatus(({ connected }) => {
    for (const one of plants.values()) one.setConnected(connected)
  })
  const stops: (() => void)[] = []

  function tick(): void {
    counts.evaluations++
    const now = clock.now()
    for (const live of plants.values()) live.tick(now)
    feed.tick(now)
  }

  function everySecond(): void {
    for (const one of plants.values()) {
      recorder.takeFigures(one)
      one.counters.save()
    }
    mqttOut?.everySecond(plants.values())
    rederiver.everySecond()
    recorder.handOver()
    journal.storeWaiting()
    health.tick()
  }

  return {
    plants,
    feed,
    journal,
    events,
    notify,
    health,
    replacePlants(next) {
      recordWaiting(plants, recorder)
      replaceLivePlants(plants, next, live)
      ingest.replacePlants(next)
      feed.plantsChanged()
      health.notePlantFiles(null)
      tell('The plant files changed and were read again.')
    },
    refusePlants(complaints) {
      health.notePlantFiles(complaints)
      for (const complaint of [...complaints, 'The plants run on as they were.']) tell(complaint, 'warn')
    },
    start(url) {
      notify.start(url)
      stops.push(clock.every(options.tickMs, tick), clock.every(1000, everySecond))
      stops.push(clock.every(SHORTEN_MS, shorteningOf(journal, edges)))
    },
    async close() {
      for (const stop of stops) stop()
      await notify.close()
      await rederiver.close()
      await broker.close()
      recordWaiting(plants, recorder)
      for (const one of plants.values()) one.close()
      recorder.handOver()
      journal.storeWaiting()
    },
  }
}

function keepingOf({ journalYears }: Edges['options']): JournalKeeping {
  return { years: journalYears, entries: MOST_ENTRIES }
}

function shorteningOf(journal: Journal, { tell, clock }: Edges): () => void {
  const log = createSparseLog(tell, clock)
  return () => {
    const count = journal.shorten(clock.now())
    if (count > 0)
      log('journal', `The oldest entries of the alarm journal are kept no longer: ${count} fewer.`)
  }
}

function openRederiver(edges: Edges, plants: ReadonlyMap<string, LivePlant>): Rederiver {
  const { deriver, history, clock, tell } = edges
  return createRederiver({ late: createLateQuarters(edges.state), deriver, plants, history, clock, tell })
}

/** What waits for a next reading that will not come here. */
function recordWaiting(plants: ReadonlyMap<string, LivePlant>, recorder: Recorder): void {
  for (const { evaluator } of plants.values())
    for (const reading of evaluator.waiting()) recorder.takeReading(reading)
}
