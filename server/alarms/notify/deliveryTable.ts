import type { State } from '../../state/openState.ts'
import type { AlarmPriority } from '../../wire/alarm.ts'
import type { DeliveryStatus, NoticeKind } from '../../wire/notifications.ts'
import type { Delivery, Ending, Path } from './delivery.ts'

/** A delivery with what has become of it. */
export interface DeliveryRecord extends Delivery {
  status: DeliveryStatus
  attempts: number
  finishedAt: number | null
  reason: string | null
  /** When its link was used to acknowledge. */
  answeredAt: number | null
}

/** The deliveries in the state file. Writing methods are to be called inside `state.write`. */
export interface DeliveryTable {
  /** Leaves a delivery that is there already as it is. */
  insert(delivery: Delivery): void
  /** Gives a delivery that still waits a new text. */
  amend(delivery: Delivery): void
  /** Stores everything, whether it is there already or not. */
  store(record: DeliveryRecord): void
  end(ending: Ending, now: number): void
  answer(id: string, at: number): void
  removeFinishedBefore(time: number): void
  get(id: string): DeliveryRecord | undefined
  waiting(limit: number): DeliveryRecord[]
  newest(limit: number): DeliveryRecord[]
  told(incident: string): Path[]
  /** Paths and times of what the rate cap counts. */
  countedSince(time: number): (Path & { createdAt: number })[]
  /** Sent tests of this incident that nobody has answered. */
  unanswered(incident: string): DeliveryRecord[]
}

interface Row {
  id: string
  incident: string
  kind: NoticeKind
  plant: string | null
  alarm: string | null
  priority: AlarmPriority
  recipient: string
  channel: string
  step: number
  created_at: number
  due_at: number
  message: string
  status: DeliveryStatus
  attempts: number
  finished_at: number | null
  reason: string | null
  answered_at: number | null
}

const COLUMNS =
  'id, incident, kind, plant, alarm, priority, recipient, channel, step, created_at, due_at, message, status, attempts, finished_at, reason, answered_at'
const VALUES = `(${COLUMNS.replaceAll(/\w+/g, '?')})`

/** What is planned for after an acknowledgement, by kind. */
export const REMINDER_KINDS: readonly NoticeKind[] = ['stillActive', 'worse']

export function createDeliveryTable({ database }: State): DeliveryTable {
  const prepare = (sql: string) => database.prepare(sql)
  const insert = prepare(`INSERT INTO delivery (${COLUMNS}) VALUES ${VALUES} ON CONFLICT (id) DO NOTHING`)
  const store = prepare(
    `INSERT INTO delivery (${COLUMNS}) VALUES ${VALUES} ON CONFLICT (id) DO UPDATE SET
       due_at = excluded.due_at, message = excluded.message, status = excluded.status,
       attempts = excluded.attempts, finished_at = excluded.finished_at, reason = excluded.reason`,
  )
  const amend = prepare(`UPDATE delivery SET message = ? WHERE id = ? AND status = 'waiting'`)
  const end = (kinds: string) =>
    prepare(
      `UPDATE delivery SET status = 'cancelled', finished_at = ?, reason = ? WHERE status = 'waiting' AND plant = ?
         AND alarm = ? AND attempts = 0 AND due_at > ? ${kinds}`,
    )
  const ends = {
    ladder: end(''),
    rungs: end('AND step > 0'),
    reminders: end(`AND kind IN (${REMINDER_KINDS.map((kind) => `'${kind}'`).join()})`),
  }
  const answer = prepare('UPDATE delivery SET answered_at = ? WHERE id = ? AND answered_at IS NULL')
  const purge = prepare(`DELETE FROM delivery WHERE status <> 'waiting' AND finished_at < ?`)
  const get = prepare('SELECT * FROM delivery WHERE id = ?')
  const waiting = prepare(`SELECT * FROM delivery WHERE status = 'waiting' ORDER BY due_at LIMIT ?`)
  const newest = prepare('SELECT * FROM delivery ORDER BY created_at DESC, id LIMIT ?')
  const told = prepare(
    `SELECT DISTINCT recipient, channel FROM delivery WHERE incident = ? AND status = 'sent'`,
  )
  const counted = prepare(
    `SELECT recipient, channel, created_at FROM delivery WHERE created_at >= ? AND priority <> 'high'
       AND kind NOT IN ('digest', 'suppressed', 'test', 'testUnanswered')`,
  )
  const unanswered = prepare('SELECT * FROM delivery WHERE incident = ? AND answered_at IS NULL')

  return {
    insert: (delivery) => void insert.run(...valuesOf(asRecord(delivery))),
    amend: ({ id, message }) => void amend.run(JSON.stringify(message), id),
    store: (record) => void store.run(...valuesOf(record)),
    end: ({ plant, alarm, what, reason }, now) => void ends[what].run(now, reason, plant, alarm, now),
    answer: (id, at) => void answer.run(at, id),
    removeFinishedBefore: (time) => void purge.run(time),
    get(id) {
      const row = get.get(id) as Row | undefined
      return row && recordOf(row)
    },
    waiting: (limit) => (waiting.all(limit) as Row[]).map(recordOf),
    newest: (limit) => (newest.all(limit) as Row[]).map(recordOf),
    told: (incident) =>
      (told.all(incident) as Row[]).map(({ recipient, channel }) => ({ recipient, channel })),
    countedSince: (time) =>
      (counted.all(time) as Row[]).map(({ recipient, channel, created_at }) => ({
        recipient,
        channel,
        createdAt: created_at,
      })),
    unanswered: (incident) => (unanswered.all(incident) as Row[]).map(recordOf),
  }
}

/** As it is before its first attempt. */
export function asRecord(delivery: Delivery): DeliveryRecord {
  return { ...delivery, status: 'waiting', attempts: 0, finishedAt: null, reason: null, answeredAt: null }
}

function valuesOf(one: DeliveryRecord) {
  return [
    one.id,
    one.incident,
    one.kind,
    one.plant,
    one.alarm,
    one.priority,
    one.recipient,
    one.channel,
    one.step,
    one.createdAt,
    one.dueAt,
    JSON.stringify(one.message),
    one.status,
    one.attempts,
    one.finishedAt,
    one.reason,
    one.answeredAt,
  ]
}

function recordOf(row: Row): DeliveryRecord {
  const { created_at, due_at, finished_at, answered_at, message, ...same } = row
  return {
    ...same,
    createdAt: created_at,
    dueAt: due_at,
    finishedAt: finished_at,
    answeredAt: answered_at,
    message: JSON.parse(message),
  }
}
