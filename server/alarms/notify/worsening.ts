import type { AlarmView } from '../../wire/alarm.ts'
import type { NotifyMemory } from './notifyMemory.ts'

/**
 * How many further shares of its limit the peak of an alarm is beyond the limit, from 0. An alarm without a limit, or
 * with one of zero, has no levels.
 *
 * Example: limit 1650, share 0.1, peak 1990 → (1990 − 1650) / 165 = 2.06 → 2.
 */
export function levelOf({ limit, peak }: Pick<AlarmView, 'limit' | 'peak'>, share: number): number {
  if (limit === undefined || limit === 0 || peak === null || !Number.isFinite(peak)) return 0
  return Math.floor(Math.abs(peak - limit) / (Math.abs(limit) * share) + 1e-9)
}

/** Notices when an alarm that somebody acknowledged gets worse by a level; each level is told once. */
export interface Worsening {
  /** @returns the level when it is higher than any before since the acknowledgement. */
  check(plant: string, alarm: AlarmView, share: number): number | undefined
}

export function createWorsening(memory: NotifyMemory): Worsening {
  return {
    check(plant, alarm, share) {
      if (alarm.state !== 'acknowledged' || !alarm.active) return undefined
      const level = levelOf(alarm, share)
      const key = `level:${plant}/${alarm.id}`
      const told = memory.get<{ at: number | null; level: number }>(key)
      if (told && told.at === alarm.acknowledgedAt) {
        if (level <= told.level) return undefined
        memory.set(key, { at: alarm.acknowledgedAt, level })
        return level
      }
      // What was there when somebody acknowledged is known to that person.
      memory.set(key, { at: alarm.acknowledgedAt, level })
      return undefined
    },
  }
}
