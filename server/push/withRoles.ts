import type { AlarmView } from '../wire/alarm.ts'
import type { Snapshot } from '../wire/plant.ts'
import type { SceneView } from '../wire/scene.ts'

/** What stands in place of the name of a person, such as the role. */
export type RoleOf = (name: string) => string

/** An alarm as somebody sees it to whom no names of people are told. */
export function alarmWithRoles(alarm: AlarmView, roleOf: RoleOf): AlarmView {
  const { acknowledgedBy, withheld } = alarm
  return {
    ...alarm,
    acknowledgedBy: acknowledgedBy === null ? null : roleOf(acknowledgedBy),
    withheld: withheld && { ...withheld, by: roleOf(withheld.by) },
  }
}

export function stampWithRole(stamp: SceneView, roleOf: RoleOf): SceneView {
  const { replay } = stamp
  return { ...stamp, replay: replay && { ...replay, by: roleOf(replay.by) } }
}

export function snapshotWithRoles({ scene, ...snapshot }: Snapshot, roleOf: RoleOf): Snapshot {
  return {
    ...snapshot,
    alarms: snapshot.alarms.map((alarm) => alarmWithRoles(alarm, roleOf)),
    ...(scene ? { scene: stampWithRole(scene, roleOf) } : {}),
  }
}
