import type { State } from '../../state/openState.ts'
import { type Path, pathId } from './delivery.ts'

/** When each way to each person last worked, across restarts. */
export interface AlertPaths {
  of(path: Path): PathMemory
  /** The next server on the way took a message over. */
  accepted(path: Path, at: number): void
  /** A person answered, or the program at the other end did. */
  proven(path: Path, at: number): void
  failed(path: Path, at: number, reason: string): void
}

export interface PathMemory {
  acceptedAt: number | null
  provenAt: number | null
  failedAt: number | null
  failure: string | null
}

const NEVER: PathMemory = { acceptedAt: null, provenAt: null, failedAt: null, failure: null }

export function createAlertPaths(state: State): AlertPaths {
  const store = state.database.prepare(
    `INSERT INTO alert_path (recipient, channel, accepted_at, proven_at, failed_at, failure) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (recipient, channel) DO UPDATE SET accepted_at = excluded.accepted_at,
       proven_at = excluded.proven_at, failed_at = excluded.failed_at, failure = excluded.failure`,
  )
  const rows = state.database.prepare('SELECT * FROM alert_path').all() as Row[]
  const known = new Map(rows.map((row) => [pathId(row), memoryOf(row)]))
  const of = (path: Path) => known.get(pathId(path)) ?? NEVER

  function change(path: Path, part: Partial<PathMemory>): void {
    const next = { ...of(path), ...part }
    known.set(pathId(path), next)
    const { acceptedAt, provenAt, failedAt, failure } = next
    state.write(() => void store.run(path.recipient, path.channel, acceptedAt, provenAt, failedAt, failure))
  }

  return {
    of,
    accepted: (path, at) => change(path, { acceptedAt: at, failure: null }),
    proven: (path, at) => change(path, { provenAt: at }),
    failed: (path, at, reason) => change(path, { failedAt: at, failure: reason }),
  }
}

interface Row extends Path {
  accepted_at: number | null
  proven_at: number | null
  failed_at: number | null
  failure: string | null
}

function memoryOf(row: Row): PathMemory {
  const { accepted_at, proven_at, failed_at, failure } = row
  return { acceptedAt: accepted_at, provenAt: proven_at, failedAt: failed_at, failure }
}
