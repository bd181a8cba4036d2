import type { AlarmPriority } from '../../wire/alarm.ts'
import type { Path } from './delivery.ts'
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
