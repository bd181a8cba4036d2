import type { Clock } from '../clock.ts'
import type { State } from '../state/openState.ts'
import type { AuditEntry } from '../wire/access.ts'
import type { QueueHealth } from '../wire/replies.ts'

/** Entries kept, about 20 MB; the database itself lets none of these be changed or removed. */
export const AUDIT_LIMIT = 100_000
/** Entries in memory while the disk refuses them. */
const WAITING_LIMIT = 1000
/** Refusals of people who are not signed in: this many a minute are listed, the rest is counted into the next. */
const STRANGERS_PER_MINUTE = 60
const TRIM_EVERY = 1000

export type AuditLine = Omit<AuditEntry, 'sequence' | 'at'>

/** Who did what, from where, and whether it was allowed. Only ever added to. */
export interface Audit {
  record(line: AuditLine): void
  /** Newest first; `before` continues a listing. */
  newest(options: { limit: number; before?: number }): AuditEntry[]
  queue(): QueueHealth
}

const FIELDS = ['at', 'who', 'role', 'address', 'action', 'target', 'detail', 'outcome'] as const

export function createAudit(state: State, clock: Clock): Audit {
  const { database } = state
  const insert = database.prepare(
    `INSERT INTO audit (${FIELDS.join(', ')}) VALUES (${FIELDS.map(() => '?').join(', ')})`,
  )
  const trim = database.prepare('DELETE FROM audit WHERE sequence <= (SELECT MAX(sequence) FROM audit) - ?')
  const list = database.prepare(
    `SELECT sequence, ${FIELDS.join(', ')} FROM audit WHERE sequence < ? ORDER BY sequence DESC LIMIT ?`,
  )
  const waiting: Omit<AuditEntry, 'sequence'>[] = []
  let dropped = 0
  let untilTrim = 0
  let minute = { startedAt: Number.NEGATIVE_INFINITY, listed: 0 }
  let notListed = 0

  /** False for what only counts: a stranger who asks a thousand times must not push the rest out. */
  function isListed({ role, outcome }: AuditLine): boolean {
    if (role !== null || outcome === 'done') return true
    if (clock.mono() - minute.startedAt >= 60_000) minute = { startedAt: clock.mono(), listed: 0 }
    minute.listed++
    return minute.listed <= STRANGERS_PER_MINUTE
  }

  function withCount(detail: string | null): string | null {
    if (notListed === 0) return detail
    const text = `${notListed} refusals before this one were not listed`
    notListed = 0
    return detail === null ? text : `${detail} (${text})`
  }

  /** Oldest first; stops at the first that is refused. */
  function store(): void {
    while (waiting.length > 0) {
      const entry = waiting[0]!
      const isStored = state.write(() => {
        insert.run(...FIELDS.map((field) => entry[field]))
        if (untilTrim <= 0) trim.run(AUDIT_LIMIT)
      })
      if (!isStored) return
      untilTrim = untilTrim <= 0 ? TRIM_EVERY : untilTrim - 1
      waiting.shift()
    }
  }

  return {
    record(line) {
      if (!isListed(line)) {
        notListed++
        dropped++
        return
      }
      waiting.push({ at: clock.now(), ...line, detail: withCount(line.detail) })
      if (waiting.length > WAITING_LIMIT) {
        waiting.shift()
        dropped++
      }
      store()
    },
    newest: ({ limit, before = Number.MAX_SAFE_INTEGER }) => list.all(before, limit) as AuditEntry[],
    queue: () => ({
      name: 'audit entries waiting for the disk',
      length: waiting.length,
      limit: WAITING_LIMIT,
      policy: `the oldest are given up and counted; of strangers ${STRANGERS_PER_MINUTE} refusals a minute are listed`,
      dropped,
    }),
  }
}
