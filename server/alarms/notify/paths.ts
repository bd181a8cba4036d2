import type { State } from '../../state/openState.ts'
import type { AlarmPriority } from '../../wire/alarm.ts'
import type { AlertPathView } from '../../wire/notifications.ts'
import { type Path, pathId } from './delivery.ts'
import type { NotifySettings, RuleSetting } from './settings.ts'

/** The rules that speak of this alarm. */
export function rulesFor(
  { plant, alarm }: { plant: { id: string }; alarm: { id: string; priority: AlarmPriority } },
  { rules }: NotifySettings,
): RuleSetting[] {
  return rules.filter(
    (rule) =>
      (rule.plants?.includes(plant.id) ?? true) &&
      (rule.alarms?.includes(alarm.id) ?? true) &&
      rule.priorities.includes(alarm.priority),
  )
}

/** Every way to these recipients that is meant for this priority. */
export function pathsOf(
  ids: readonly string[],
  priority: AlarmPriority,
  { recipients }: NotifySettings,
): Path[] {
  return ids.flatMap((id) =>
    (recipients.find((one) => one.id === id)?.by ?? [])
      .filter((way) => way.priorities?.includes(priority) ?? true)
      .map(({ channel }) => ({ recipient: id, channel })),
  )
}

/** Every way to every recipient. */
export function allPaths({ recipients }: NotifySettings): Path[] {
  return recipients.flatMap(({ id, by }) => by.map(({ channel }) => ({ recipient: id, channel })))
}

export type PathMemory = Pick<AlertPathView, 'acceptedAt' | 'provenAt' | 'failedAt' | 'failure'>

/** When each way to each person last worked, across restarts. */
export interface PathMemories {
  of(path: Path): PathMemory
  /** The next server on the way took a message over. */
  accepted(path: Path, at: number): void
  /** A person answered, or the program at the other end did. */
  proven(path: Path, at: number): void
  failed(path: Path, at: number, reason: string): void
}

const NEVER: PathMemory = { acceptedAt: null, provenAt: null, failedAt: null, failure: null }

export function createPathMemories({ database, write }: State): PathMemories {
  const store = database.prepare(
    `INSERT INTO alert_path (recipient, channel, accepted_at, proven_at, failed_at, failure) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (recipient, channel) DO UPDATE SET accepted_at = excluded.accepted_at,
       proven_at = excluded.proven_at, failed_at = excluded.failed_at, failure = excluded.failure`,
  )
  const list = database.prepare(
    `SELECT recipient, channel, accepted_at AS acceptedAt, proven_at AS provenAt, failed_at AS failedAt, failure
     FROM alert_path`,
  )
  const known = new Map<string, PathMemory>()
  for (const { recipient, channel, ...memory } of list.all() as (Path & PathMemory)[])
    known.set(pathId({ recipient, channel }), memory)
  const of = (path: Path) => known.get(pathId(path)) ?? NEVER

  function change(path: Path, part: Partial<PathMemory>): void {
    const next = { ...of(path), ...part }
    known.set(pathId(path), next)
    const { acceptedAt, provenAt, failedAt, failure } = next
    write(() => void store.run(path.recipient, path.channel, acceptedAt, provenAt, failedAt, failure))
  }

  return {
    of,
    accepted: (path, at) => change(path, { acceptedAt: at, failure: null }),
    proven: (path, at) => change(path, { provenAt: at }),
    failed: (path, at, reason) => change(path, { failedAt: at, failure: reason }),
  }
}
