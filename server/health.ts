import type { Journal } from './alarms/journal.ts'
import { WAITING_LIMIT } from './alarms/journal.ts'
import type { Notify } from './alarms/notify/openNotify.ts'
import type { Certificate } from './certificate.ts'
import type { Feed } from './channel/feed.ts'
import type { Clock } from './clock.ts'
import { dataFlow } from './dataFlow.ts'
import { doubtViews } from './derive/plantView.ts'
import type { Recorder } from './history/recorder.ts'
import type { HistoryStore } from './history/store.ts'
import type { Broker } from './ingest/broker/broker.ts'
import type { Ingest } from './ingest/ingest.ts'
import { watchLoopDelay } from './loopDelay.ts'
import type { Plant } from './plant/plant.ts'
import { doubtsSeen } from './plausible/seen.ts'
import { createStageRates, type Stage } from './stageRates.ts'
import type { State } from './state/openState.ts'
import type { Progress } from './supervisor.ts'
import { VERSION } from './version.ts'
import type { HealthLine } from './wire/plant.ts'
import type { HealthReply, QueueHealth } from './wire/replies.ts'

export interface HealthSources {
  clock: Clock
  broker: Broker
  ingest: Ingest
  history: HistoryStore
  recorder: Recorder
  journal: Journal
  notify: Notify
  state: State
  counts: { transitions: number; evaluations: number }
  plants: () => readonly Plant[]
  /** Why the run before this one ended by itself. */
  lastFault: HealthReply['lastFault']
  certificate: Certificate | undefined
  feed: Feed
  /** Of what came late. */
  lateQueue: () => QueueHealth
  /** Of the log. */
  logQueue: (() => QueueHealth) | undefined
}

/** What every stage has done, how full every queue is, and what went wrong where. */
export interface Health {
  reply(): HealthReply
  line(): HealthLine
  /** Changed plant files were refused, or (null) taken over. */
  notePlantFiles(complaints: readonly string[] | null): void
  /** How far the way of a measurement has come. */
  progress(): Progress
  /** Call once a second: rates are over the last second. */
  tick(): void
}

const MOST_COMPLAINTS = 50

export function createHealth(sources: HealthSources): Health {
  const startedAt = sources.clock.now()
  const delay = watchLoopDelay()
  const rates = createStageRates(sources.clock, () => totalsOf(sources))
  let refusedFiles: HealthReply['refusedFiles'] = null

  return {
    tick() {
      rates.tick()
      delay.tick()
    },
    notePlantFiles(complaints) {
      refusedFiles = complaints && {
        at: sources.clock.now(),
        complaints: complaints.slice(0, MOST_COMPLAINTS),
      }
    },
    progress() {
      const { received, readings, faults, duplicates } = sources.ingest.counters()
      return { evaluations: sources.counts.evaluations, received, taken: readings + faults + duplicates }
    },
    line() {
      const store = storing(sources)
      const unproven = sources.notify.unproven()
      return {
        faults: sources.ingest.counters().faults,
        unmapped: sources.ingest.unmapped().length,
        storing: store.ok,
        ...(store.detail === undefined ? {} : { storingDetail: store.detail }),
        ...(unproven === undefined ? {} : { alertPath: unproven }),
      }
    },
    reply() {
      const memoryRssBytes = process.memoryUsage.rss()
      return {
        at: sources.clock.now(),
        version: VERSION,
        startedAt,
        stages: rates.stages(),
        queues: queuesOf(sources),
        topics: sources.ingest.topics(),
        unmapped: sources.ingest.unmapped(),
        unmappedDropped: sources.ingest.unmappedDropped(),
        source: sources.broker.status(),
        storing: storing(sources),
        doubts: allDoubts(sources, startedAt),
        refusedFiles,
        flow: flowOf(sources, startedAt),
        lastFault: sources.lastFault,
        eventLoopDelayP99Ms: delay.p99(),
        memoryRssBytes,
        processes: [{ name: 'watch', memoryRssBytes, eventLoopDelayP99Ms: delay.p99() }],
        certificate: sources.certificate?.health() ?? null,
        pageRestarts: Math.max(0, sources.feed.openings() - 1),
      }
    },
  }
}

function totalsOf({ broker, ingest, recorder, history, counts, journal }: HealthSources): Stage[] {
  const packets = broker.counters()
  const read = ingest.counters()
  const store = history.health()
  return [
    {
      name: 'broker',
      total: packets.received,
      faults: packets.oversize,
      detail: `${packets.reconnects} reconnects, ${packets.forwardDropped} messages left out for clients that read too slowly, ${packets.handshakesRefused} connections refused before TLS`,
    },
    {
      name: 'ingest',
      total: read.received,
      faults: read.faults,
      detail: `${read.duplicates} duplicates, ${read.outOfOrder} out of order, ${read.future} from the future, ${read.tooOld} too old, ${read.kept} kept by the broker, ${read.clockUnset} with a clock that was never set, ${read.clockBehind} with one that was set back`,
    },
    { name: 'readings', total: read.readings, faults: 0 },
    { name: 'derive', total: counts.evaluations, faults: 0 },
    { name: 'alarms', total: counts.transitions, faults: journal.waiting().dropped },
    {
      name: 'history',
      total: recorder.recorded(),
      faults: store.dropped,
      detail: `${store.appended} rows stored`,
    },
  ]
}

function queuesOf({
  history,
  journal,
  notify,
  broker,
  feed,
  lateQueue,
  logQueue,
}: HealthSources): HealthReply['queues'] {
  const store = history.health()
  const waiting = journal.waiting()
  const packets = broker.counters()
  return [
    {
      name: 'rows waiting for history',
      length: store.pending,
      limit: store.pendingLimit,
      policy: 'the oldest rows are given up and counted',
      dropped: store.dropped,
    },
    {
      name: 'journal entries waiting for the disk',
      length: waiting.length,
      limit: WAITING_LIMIT,
      policy: 'the oldest entries are given up and counted',
      dropped: waiting.dropped,
    },
    {
      name: 'own messages waiting for the broker',
      length: packets.publishQueued,
      limit: packets.publishLimit,
      policy: 'a newer retained message replaces the one before; then the oldest is given up and counted',
      dropped: packets.publishDropped,
    },
    notify.queue(),
    feed.queue(),
    lateQueue(),
    ...(logQueue ? [logQueue()] : []),
  ]
}

/** The commissioning check of all plants. */
function allDoubts({ plants, ingest, clock }: HealthSources, startedAt: number): HealthReply['doubts'] {
  const topics = ingest.topics()
  const ranMs = clock.now() - startedAt
  return plants().flatMap((plant) => {
    const own = topics.filter((one) => one.plant === plant.id)
    const seen = doubtsSeen(plant, (id) => own.find((one) => one.instrument === id), ranMs)
    return doubtViews([...(plant.doubts ?? []), ...seen]).map((one) => ({ plant: plant.id, ...one }))
  })
}

function flowOf(sources: HealthSources, startedAt: number): HealthReply['flow'] {
  return dataFlow({
    now: sources.clock.now(),
    startedAt,
    source: sources.broker.status(),
    storing: storing(sources),
    topics: sources.ingest.topics(),
    plants: sources.plants(),
    lostEntries: sources.journal.waiting().length,
  })
}

function storing({ history, state }: HealthSources): HealthReply['storing'] {
  const store = history.health()
  const { count, last, isFailing } = state.failures()
  if (!store.ok) return { ok: false, detail: store.detail ?? 'History cannot be stored.' }
  if (isFailing)
    return { ok: false, detail: `Counters or journal cannot be stored (${count} writes so far): ${last}` }
  return { ok: true }
}
