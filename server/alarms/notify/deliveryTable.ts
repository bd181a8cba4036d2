import type { State } from '../../state/openState.ts'
import type { DeliveryView, NoticeKind } from '../../wire/notifications.ts'
import type { Delivery, Ending, Path } from './delivery.ts'

/** A delivery with what has become of it. */
export interface DeliveryRecord
  extends Delivery,
    Pick<DeliveryView, 'status' | 'attempts' | 'finishedAt' | 'reason'> {
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
  /** Oldest first, at most the newest two hundred. */
  ofIncident(incident: string): DeliveryRecord[]
  /** Paths and times of what the rate cap counts. */
  countedSince(time: number): (Path & { createdAt: number })[]
  /** Sent tests of this incident that nobody has answered. */
  unanswered(incident: string): DeliveryRecord[]
}

const FIELDS = [
  'id',
  'incident',
  'kind',
  'plant',
  'alarm',
  'priority',
  'recipient',
  'channel',
  'step',
  'createdAt',
  'dueAt',
  'message',
  'status',
  'attempts',
  'finishedAt',
  'reason',
  'answeredAt',
] as const satisfies (keyof DeliveryRecord)[]
const COLUMNS = FIELDS.map(columnOf).join()
const VALUES = `(${FIELDS.map(() => '?').join()})`
const SELECT = `SELECT ${FIELDS.map((field) => `${columnOf(field)} AS ${field}`).join()} FROM delivery`

/** What is meant for after an acknowledgement, by kind. */
export const REMINDER_KINDS: readonly NoticeKind[] = ['stillActive', 'worse']
/** What the rate cap does not count. */
export const UNCOUNTED_KINDS: readonly NoticeKind[] = ['digest', 'suppressed', 'test', 'testUnanswered']

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
    reminders: end(`AND kind IN ${listOf(REMINDER_KINDS)}`),
  }
  const answer = prepare('UPDATE delivery SET answered_at = ? WHERE id = ? AND answered_at IS NULL')
  const purge = prepare(`DELETE FROM delivery WHERE status <> 'waiting' AND finished_at < ?`)
  const get = prepare(`${SELECT} WHERE id = ?`)
  const waiting = prepare(`${SELECT} WHERE status = 'waiting' ORDER BY created_at, rowid LIMIT ?`)
  const newest = prepare(`${SELECT} ORDER BY created_at DESC, id LIMIT ?`)
  const ofIncident = prepare(`${SELECT} WHERE incident = ? ORDER BY created_at DESC, rowid DESC LIMIT 200`)
  const counted = prepare(
    `SELECT recipient, channel, created_at AS createdAt FROM delivery WHERE created_at >= ?
       AND priority <> 'high' AND kind NOT IN ${listOf(UNCOUNTED_KINDS)}`,
  )
  const unanswered = prepare(`${SELECT} WHERE incident = ? AND answered_at IS NULL`)

  return {
    insert: (delivery) => void insert.run(...valuesOf(asRecord(delivery))),
    amend: ({ id, message }) => void amend.run(JSON.stringify(message), id),
    store: (record) => void store.run(...valuesOf(record)),
    end: ({ plant, alarm, what, reason }, now) => void ends[what].run(now, reason, plant, alarm, now),
    answer: (id, at) => void answer.run(at, id),
    removeFinishedBefore: (time) => void purge.run(time),
    get: (id) => recordsOf(get.all(id))[0],
    waiting: (limit) => recordsOf(waiting.all(limit)),
    newest: (limit) => recordsOf(newest.all(limit)),
    ofIncident: (incident) => recordsOf(ofIncident.all(incident)).reverse(),
    countedSince: (time) => counted.all(time) as (Path & { createdAt: number })[],
    unanswered: (incident) => recordsOf(unanswered.all(incident)),
  }
}

/** As it is before its first attempt. */
export function asRecord(delivery: Delivery): DeliveryRecord {
  return { ...delivery, status: 'waiting', attempts: 0, finishedAt: null, reason: null, answeredAt: null }
}

/** "createdAt" → "created_at" */
function columnOf(field: string): string {
  return field.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)
}

function listOf(kinds: readonly NoticeKind[]): string {
  return `(${kinds.map((kind) => `'${kind}'`).join()})`
}

function valuesOf(record: DeliveryRecord) {
  return FIELDS.map((field) => (field === 'message' ? JSON.stringify(record.message) : record[field]))
}

function recordsOf(rows: unknown[]): DeliveryRecord[] {
  return (rows as (Omit<DeliveryRecord, 'message'> & { message: string })[]).map((row) => ({
    ...row,
    message: JSON.parse(row.message),
  }))
}
