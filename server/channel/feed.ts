import type { Reading } from '../ingest/reading.ts'
import type { LivePlant } from '../livePlant.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { HealthLine, SourceView } from '../wire/plant.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { PlantNow, ToPage } from './messages.ts'
import { createReadingBuffer, type ReadingBuffer } from './readingColumns.ts'

/**
 * What the watch tells the page side. It never waits: as long as the page side has not taken in what was sent, readings
 * are merged into the next tick, up to a limit. While there is no page side nothing is kept; the next one begins with
 * everything as it is then.
 */
export interface Feed {
  takeReading(reading: Reading): void
  /** At once, ahead of the tick. */
  alarm(plant: string, alarm: AlarmView): void
  /** Call when every plant was brought up to `now`. */
  tick(now: number): void
  /** The plants are others now. */
  plantsChanged(): void
  /** A page side is there: it gets everything, then what changes. @param post Must not throw. */
  open(post: (message: ToPage) => void): void
  /** It took this tick in. */
  taken(tick: number): void
  /** It is gone. */
  close(): void
  queue(): QueueHealth
  /** How often a page side was there. */
  openings(): number
}

export interface FeedSources {
  plants: () => ReadonlyMap<string, LivePlant>
  source: () => SourceView
  health: () => HealthLine
}

/** Ticks that may be on their way. */
const MOST_UNDER_WAY = 5
/** Alarm steps ahead of the tick between two ticks that were taken in; more come with the tick. */
const MOST_AHEAD = 200
/** Readings that may wait: 1.4 MB. */
export const MOST_READINGS = 50_000
/** The health line is looked at this seldom [ms]. */
const HEALTH_MS = 1000

export function createFeed({ plants, source, health }: FeedSources): Feed {
  let post: ((message: ToPage) => void) | undefined
  let buffer: ReadingBuffer = createReadingBuffer([], 1)
  let alarms = new Map<string, Map<string, AlarmView>>()
  let ticks = 0
  let takenUpTo = 0
  let ahead = 0
  let evaluatedAt: number | null = null
  let shown = { source: '', health: '', healthAt: Number.NEGATIVE_INFINITY }
  let droppedBefore = 0
  let openings = 0

  function begin(): void {
    droppedBefore += buffer.dropped()
    buffer = createReadingBuffer(
      [...plants().values()].map(({ plant }) => plant),
      MOST_READINGS,
    )
    alarms = new Map()
    const now = { source: source(), health: health() }
    shown = { source: JSON.stringify(now.source), health: JSON.stringify(now.health), healthAt: 0 }
    post?.({ kind: 'plants', plants: [...plants().values()].map(plantNow), evaluatedAt, ...now })
  }

  function noteChangedAlarms({ plant, board }: LivePlant): void {
    const known = alarms.get(plant.id) ?? new Map<string, AlarmView>()
    for (const view of board.takeChanged()) known.set(view.id, view)
    alarms.set(plant.id, known)
  }

  function send(now: number): void {
    const all = [...plants().values()]
    post?.({
      kind: 'tick',
      tick: ++ticks,
      now,
      ...buffer.take(),
      isConnected: all.map(({ evaluator }) => evaluator.isConnected()),
      accumulated: all.map(({ accumulated }) => [...accumulated]),
      verdicts: all.map(({ verdict }) => verdict() ?? null),
      alarms: all.map(({ plant }) => [...(alarms.get(plant.id)?.values() ?? [])]),
      ...changedLines(now),
    })
    alarms = new Map()
  }

  function changedLines(now: number): { source?: SourceView; health?: HealthLine } {
    const changed: { source?: SourceView; health?: HealthLine } = {}
    const sourceNow = source()
    const sourceText = JSON.stringify(sourceNow)
    if (sourceText !== shown.source) changed.source = sourceNow
    shown.source = sourceText
    if (Math.abs(now - shown.healthAt) < HEALTH_MS) return changed
    shown.healthAt = now
    const healthNow = health()
    const healthText = JSON.stringify(healthNow)
    if (healthText !== shown.health) changed.health = healthNow
    shown.health = healthText
    return changed
  }

  return {
    takeReading(reading) {
      if (post) buffer.add(reading)
    },
    alarm(plant, alarm) {
      if (!post || ahead >= MOST_AHEAD) return
      ahead++
      post({ kind: 'alarm', plant, alarm })
    },
    tick(now) {
      evaluatedAt = now
      if (!post) return
      for (const live of plants().values()) noteChangedAlarms(live)
      if (ticks - takenUpTo < MOST_UNDER_WAY) send(now)
    },
    plantsChanged() {
      evaluatedAt = null
      if (post) begin()
    },
    open(to) {
      post = to
      openings++
      takenUpTo = ticks
      ahead = 0
      begin()
    },
    taken(tick) {
      if (tick > takenUpTo && tick <= ticks) takenUpTo = tick
      ahead = 0
    },
    close() {
      post = undefined
      droppedBefore += buffer.dropped()
      buffer = createReadingBuffer([], 1)
      alarms = new Map()
    },
    queue: () => ({
      name: 'readings waiting for the page side',
      length: buffer.length(),
      limit: MOST_READINGS,
      policy: 'the older half is left out of live windows and traces and counted; the watch has them all',
      dropped: droppedBefore + buffer.dropped(),
    }),
    openings: () => openings,
  }
}

function plantNow(live: LivePlant): PlantNow {
  return {
    plant: live.plant,
    isConnected: live.evaluator.isConnected(),
    figures: live.evaluator.memory(),
    accumulated: [...live.accumulated],
    verdict: live.verdict() ?? null,
    machine: live.machine(),
    alarms: live.board.views(),
    lastReceivedAt: live.lastReceivedAt(),
  }
}
