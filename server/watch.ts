import { EventEmitter } from 'node:events'
import { createEventStore, type EventStore } from './alarms/events/eventStore.ts'
import { createFloodWatch } from './alarms/flood.ts'
import { createJournal, type Journal } from './alarms/journal.ts'
import { type Notify, openNotify } from './alarms/notify/openNotify.ts'
import { createCounterStore } from './derive/counterStore.ts'
import type { Edges } from './edges.ts'
import { createHealth, type Health } from './health.ts'
import { createRecorder } from './history/recorder.ts'
import { createIngest } from './ingest/ingest.ts'
import type { Reading } from './ingest/reading.ts'
import { createLivePlant, type LivePlant, type LivePlantOptions, replaceLivePlants } from './livePlant.ts'
import type { Plant } from './plant/plant.ts'
import { createMqttOut } from './push/mqttOut.ts'
import type { AlarmView, JournalEntry } from './wire/alarm.ts'

/** What the watch tells of, in the order in which it happens. Listeners are called at once and must not throw. */
export interface WatchEvents {
  /** A reading, after its plant has judged and taken it. */
  reading: [reading: Reading]
  /** A step in the life of an alarm, after it went to the journal and the outbox. */
  transition: [plant: string, alarm: AlarmView, entry: JournalEntry]
  /** A plant was brought up to date; these figures (by index) changed since the time before. */
  figures: [plant: LivePlant, changed: number[]]
  /** The plant files were read again. */
  plantsChanged: [ids: readonly string[]]
}

/**
 * Everything that must go on at two in the morning: broker, readings, figures, counters, alarms with their journal and
 * outbox, and the way into history. It knows nothing of pages and of those who look at them.
 */
export interface Watch {
  plants: ReadonlyMap<string, LivePlant>
  happenings: EventEmitter<WatchEvents>
  journal: Journal
  events: EventStore
  notify: Notify
  health: Health
  /** Takes changed plants over while everything runs. */
  replacePlants(plants: readonly Plant[]): void
  /** Begins to tick and to send messages; their links lead to the page at `url`. */
  start(url: string): void
  /** Stops listening, and stores what is in hand. */
  close(): Promise<void>
}

export function createWatch({ clock, options, plants: files, state, history, broker, tell }: Edges): Watch {
  const happenings = new EventEmitter<WatchEvents>()
  const plants = new Map<string, LivePlant>()
  const notify = openNotify(options, { state, clock, plants: () => plants, broker: () => broker })
  const journal = createJournal(state, notify.alongside)
  const events = createEventStore(state)
  const recorder = createRecorder(history)
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
      happenings.emit('transition', plant, alarm, entry)
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
      plants.get(reading.plant)?.takeReading(reading)
      recorder.takeReading(reading)
      happenings.emit('reading', reading)
    },
  })
  const health = createHealth({ clock, broker, ingest, history, recorder, journal, notify, state, counts })
  broker.onStatus(({ connected }) => {
    for (const one of plants.values()) one.setConnected(connected)
  })
  const stops: (() => void)[] = []

  function tick(): void {
    counts.evaluations++
    const now = clock.now()
    for (const one of plants.values()) happenings.emit('figures', one, one.tick(now))
  }

  function everySecond(): void {
    for (const one of plants.values()) {
      recorder.takeFigures(one)
      one.counters.save()
      mqttOut?.figures(one)
    }
    recorder.handOver()
    health.tick()
  }

  return {
    plants,
    happenings,
    journal,
    events,
    notify,
    health,
    replacePlants(next) {
      replaceLivePlants(plants, next, live)
      ingest.replacePlants(next)
      happenings.emit('plantsChanged', [...plants.keys()])
      tell('The plant files changed and were read again.')
    },
    start(url) {
      notify.start(url)
      stops.push(clock.every(options.tickMs, tick), clock.every(1000, everySecond))
    },
    async close() {
      for (const stop of stops) stop()
      await notify.close()
      await broker.close()
      for (const one of plants.values()) one.close()
      recorder.handOver()
    },
  }
}
