import type { Clock } from '../../clock.ts'
import type { State } from '../../state/openState.ts'
import type { QueueHealth } from '../../wire/replies.ts'
import {
  type Delivery,
  type Dispatch,
  type EarlierMessages,
  type Ending,
  type Path,
  pathId,
} from './delivery.ts'
import {
  asRecord,
  createDeliveryTable,
  type DeliveryRecord,
  type DeliveryTable,
  REMINDER_KINDS,
  UNCOUNTED_KINDS,
} from './deliveryTable.ts'
import { byImportance, headsOf, lessImportant } from './lanes.ts'

/** Most deliveries that wait; beyond that the least important, oldest ones are given up. */
export const OUTBOX_LIMIT = 5000
/** When something newer joins a lane, the one at its head is tried again, but no sooner than this [ms] after its last attempt. */
const PROBE_AFTER_MS = 5000
/** What has become of a delivery is kept this long. */
const KEPT_MS = 90 * 86_400_000

/** A delivery that waits, in memory. */
export interface Waiting extends DeliveryRecord {
  /** Monotonic time [ms] at which it becomes due, whatever the wall clock does meanwhile. */
  dueMono: number
  /** Of the last attempt; undefined before the first. */
  triedMono?: number
  /** Under way just now. */
  isSending: boolean
  /** Its place in the order of its lane, once it was due. */
  turn: number | undefined
}

/**
 * Deliveries that survive the death of the process. What waits is held in memory as well, so that a disk that takes
 * no writes keeps nobody from being called: then a delivery may come twice after a restart, never not at all.
 */
export interface Outbox {
  /**
   * Takes a dispatch in, ready to be sent at once. @returns what writes it, to be called inside the transaction of what
   * happened; calling it again changes nothing.
   */
  take(dispatch: Dispatch): () => void
  /** Takes a dispatch in and writes it by itself. */
  put(dispatch: Dispatch): void
  earlier: EarlierMessages
  /** Due, at the head of their lanes and not under way, most important first. */
  due(channel: string, most: number): Waiting[]
  /** Channels that something waits for. */
  channels(): ReadonlySet<string>
  countWaiting(channel: string): number
  sent(id: string): void
  failed(id: string, reason: string): void
  /** With `isAsked` the other side wants that pause. */
  retryIn(id: string, pause: { ms: number; isAsked: boolean }, reason: string): void
  table: DeliveryTable
  queue(): QueueHealth
  /** Once a minute or so: writes what could not be written, and removes what is long over. */
  tidy(): void
}

export function createOutbox(state: State, clock: Clock, limit = OUTBOX_LIMIT): Outbox {
  const table = createDeliveryTable(state)
  const waiting = new Map<string, Waiting>()
  /** Results that the disk did not take. */
  const unsaved = new Map<string, DeliveryRecord>()
  const counted = new Map<string, number[]>()
  let dropped = 0
  let turns = 0
  for (const record of table.waiting(limit)) hold(record)
  for (const one of table.countedSince(clock.now() - 86_400_000)) count(one, one.createdAt)

  function hold(record: DeliveryRecord): void {
    // A wall clock that was wrong when the delivery was made must not hold it back longer than was meant.
    const wait = Math.min(record.dueAt - clock.now(), record.dueAt - record.createdAt)
    const turn = record.attempts > 0 ? turns++ : undefined
    waiting.set(record.id, { ...record, dueMono: clock.mono() + Math.max(0, wait), isSending: false, turn })
  }

  function count(path: Path, createdAt: number): void {
    const times = counted.get(pathId(path)) ?? []
    times.push(createdAt)
    // More are never asked for: rate.most is at most 1000.
    if (times.length > 2000) times.splice(0, 1000)
    counted.set(pathId(path), times)
  }

  function take(dispatch: Dispatch): () => void {
    const now = clock.now()
    for (const ending of dispatch.end) endInMemory(ending)
    for (const delivery of dispatch.amend) {
      const known = waiting.get(delivery.id)
      if (known) waiting.set(delivery.id, { ...known, message: delivery.message })
    }
    for (const delivery of dispatch.add) {
      hold(asRecord(delivery))
      if (delivery.priority !== 'high' && !UNCOUNTED_KINDS.includes(delivery.kind)) count(delivery, now)
    }
    const victims = giveUpBeyondLimit()
    return () => {
      for (const ending of dispatch.end) table.end(ending, now)
      for (const delivery of dispatch.add) table.insert(delivery)
      for (const delivery of dispatch.amend) table.amend(delivery)
      for (const record of victims) table.store(record)
    }
  }

  function endInMemory({ plant, alarm, what }: Ending): void {
    for (const one of waiting.values()) {
      const isOfAlarm = one.plant === plant && one.alarm === alarm
      if (isOfAlarm && isEndedBy(what, one) && !isDue(one) && one.attempts === 0) waiting.delete(one.id)
    }
  }

  function giveUpBeyondLimit(): DeliveryRecord[] {
    const victims: DeliveryRecord[] = []
    while (waiting.size > limit) {
      const victim = leastImportant()
      if (!victim) break
      waiting.delete(victim.id)
      dropped++
      victims.push(finish(victim, 'failed', `given up: more than ${limit} messages were waiting`))
    }
    return victims
  }

  function leastImportant(): Waiting | undefined {
    let least: Waiting | undefined
    for (const one of waiting.values()) {
      if (one.isSending) continue
      if (!least || lessImportant(one, least)) least = one
    }
    return least
  }

  function isDue(one: Waiting): boolean {
    return clock.mono() >= one.dueMono || clock.now() >= one.dueAt
  }

  /** In the order in which they became due. What joins a lane has its head tried again: the way may be free by now. */
  function giveTurns(queued: readonly Waiting[]): void {
    const fresh = queued.filter((one) => one.turn === undefined && isDue(one))
    for (const one of fresh.sort((a, b) => a.dueMono - b.dueMono)) one.turn = turns++
    const ways = new Set(fresh.map(pathId))
    for (const one of queued) {
      if (one.triedMono === undefined || one.isSending || !ways.has(pathId(one))) continue
      const probeIn = Math.max(0, one.triedMono + PROBE_AFTER_MS - clock.mono())
      if (clock.mono() + probeIn >= one.dueMono) continue
      one.dueMono = clock.mono() + probeIn
      one.dueAt = clock.now() + probeIn
    }
  }

  function finish(one: Waiting, status: 'sent' | 'failed', reason: string | null): DeliveryRecord {
    return { ...recordOf(one), status, reason, finishedAt: clock.now() }
  }

  function settle(id: string, status: 'sent' | 'failed', reason: string | null): void {
    const one = waiting.get(id)
    if (!one) return
    waiting.delete(id)
    save({ ...finish(one, status, reason), attempts: one.attempts + 1 })
  }

  function save(record: DeliveryRecord): void {
    unsaved.set(record.id, record)
    flush()
  }

  function flush(): void {
    if (unsaved.size === 0) return
    const held = state.write(() => {
      for (const record of unsaved.values()) table.store(record)
    })
    if (held) unsaved.clear()
    // A disk that takes nothing for days must not fill the memory: these would be sent once more, no worse.
    else if (unsaved.size > limit) unsaved.delete(unsaved.keys().next().value!)
  }

  return {
    take,
    put(dispatch) {
      const write = take(dispatch)
      if (!state.write(write))
        for (const { id } of dispatch.add) {
          const one = waiting.get(id)
          if (one) unsaved.set(id, recordOf(one))
        }
    },
    earlier: {
      waiting: (id) => waiting.get(id),
      countSince: (path, since) => (counted.get(pathId(path)) ?? []).filter((at) => at >= since).length,
      ofIncident(incident) {
        const stored = table.ofIncident(incident).map((one) => waiting.get(one.id) ?? one)
        const ids = new Set(stored.map((one) => one.id))
        // What the disk did not take.
        const rest = [...waiting.values()].filter((one) => one.incident === incident && !ids.has(one.id))
        return [...stored, ...rest]
      },
    },
    due(channel, most) {
      const queued = [...waiting.values()].filter((one) => one.channel === channel)
      giveTurns(queued)
      const ready = headsOf(queued).filter((one) => !one.isSending && isDue(one))
      return ready.sort(byImportance).slice(0, Math.max(0, most))
    },
    channels: () => new Set([...waiting.values()].map((one) => one.channel)),
    countWaiting: (channel) => [...waiting.values()].filter((one) => one.channel === channel).length,
    sent: (id) => settle(id, 'sent', null),
    failed: (id, reason) => settle(id, 'failed', reason),
    retryIn(id, { ms, isAsked }, reason) {
      const one = waiting.get(id)
      if (!one) return
      const attempts = one.attempts + 1
      const next = {
        ...one,
        attempts,
        reason,
        dueAt: clock.now() + ms,
        dueMono: clock.mono() + ms,
        triedMono: isAsked ? Number.POSITIVE_INFINITY : clock.mono(),
        isSending: false,
      }
      waiting.set(id, next)
      save(recordOf(next))
    },
    table,
    queue: () => ({
      name: 'alarm messages waiting to be sent',
      length: waiting.size,
      limit,
      policy: 'the least important, oldest ones are given up, counted and listed',
      dropped,
    }),
    tidy() {
      flush()
      state.write(() => table.removeFinishedBefore(clock.now() - KEPT_MS))
    },
  }
}

function recordOf(one: Waiting): DeliveryRecord {
  const { dueMono: _mono, triedMono: _tried, isSending: _sending, turn: _turn, ...record } = one
  return record
}

function isEndedBy(what: Ending['what'], { step, kind }: Delivery): boolean {
  if (what === 'rungs') return step > 0
  return what === 'ladder' || REMINDER_KINDS.includes(kind)
}
