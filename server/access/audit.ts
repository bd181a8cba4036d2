import { createAllowances, type Rate } from '../allowance.ts'
import type { Clock } from '../clock.ts'
import type { State } from '../state/openState.ts'
import type { AuditEntry } from '../wire/access.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { AuditFile } from './auditFile.ts'

/** Entries kept, about 20 MB; the database itself lets none of these be changed or removed. */
export const AUDIT_LIMIT = 100_000
/** Entries in memory while the disk refuses them. */
const WAITING_LIMIT = 1000
/** Refusals of one actor, all strangers being one, and deeds of one who has no account. The rest is counted into the next line. */
const REFUSALS: Rate = { perSecond: 1, burst: 60 }
/** The same deed of one person: whoever does a harmless one a thousand times hides no other by it. */
const DEEDS: Rate = { perSecond: 1, burst: 100 }
/** Actors named in the count of what was not listed. */
const MOST_NAMED = 5
const TRIM_EVERY = 1000

export type AuditLine = Omit<AuditEntry, 'sequence' | 'at'>

/** Who did what, from where, and whether it was allowed. Only ever added to. */
export interface Audit {
  record(line: AuditLine): void
  /** Newest first; `before` continues a listing. */
  newest(options: { limit: number; before?: number }): AuditEntry[]
  queues(): QueueHealth[]
}

const FIELDS = ['at', 'who', 'role', 'address', 'action', 'target', 'detail', 'outcome'] as const

export function createAudit(state: State, clock: Clock, file: AuditFile): Audit {
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
  const refusals = createAllowances('refusals in the audit', REFUSALS, clock.mono)
  const deeds = createAllowances('deeds in the audit', DEEDS, clock.mono)
  /** By actor. */
  const notListed = new Map<string, number>()

  /** False for what only counts: who asks a thousand times must not push the rest out. */
  function isListed(line: AuditLine): boolean {
    const actor = actorIn(line)
    const isDeed = line.role !== null && line.outcome === 'done'
    if (isDeed ? deeds.take(`${actor}: ${line.action}`) : refusals.take(actor)) return true
    const named = notListed.has(actor) || notListed.size < MOST_NAMED ? actor : 'others'
    notListed.set(named, (notListed.get(named) ?? 0) + 1)
    return false
  }

  function withCount(detail: string | null): string | null {
    if (notListed.size === 0) return detail
    const sum = [...notListed.values()].reduce((all, one) => all + one, 0)
    const whose = [...notListed].map(([actor, count]) => `${actor} ${count}`).join(', ')
    const text = `${sum} entries before this one were not listed: ${whose}`
    notListed.clear()
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
        dropped++
        return
      }
      const entry = { at: clock.now(), ...line, detail: withCount(line.detail) }
      file.add(entry)
      waiting.push(entry)
      if (waiting.length > WAITING_LIMIT) {
        waiting.shift()
        dropped++
      }
      store()
    },
    newest: ({ limit, before = Number.MAX_SAFE_INTEGER }) => list.all(before, limit) as AuditEntry[],
    queues: () => [
      {
        name: 'audit entries waiting for the disk',
        length: waiting.length,
        limit: WAITING_LIMIT,
        policy: `the oldest are given up and counted; of one actor ${REFUSALS.burst} refusals or ${DEEDS.burst} deeds of a kind a minute are listed, the rest counted`,
        dropped,
      },
      file.queue(),
    ],
  }
}

/** All strangers are one: a name that was not proven may be any. */
function actorIn({ who, role, outcome }: AuditLine): string {
  return role !== null || outcome === 'done' ? (who ?? 'somebody without a name') : 'strangers'
}
