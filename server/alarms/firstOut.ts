/** Alarms of one group that follow the first within this time [ms] have its cause (trade practice, from memory). */
export const FIRST_OUT_MS = 60_000

/** Who follows whom after a raise: alarm id → id of the first, or null for the first itself. */
export type Followings = ReadonlyMap<string, string | null>

export interface FirstOut {
  /** @param at Time of measurement: what arrives late may still have been first. */
  raised(group: string, alarm: string, at: number): Followings
}

interface Group {
  first: string
  at: number
  followers: Set<string>
}

/** Which alarm of a group was first: the one closest to the cause. Ordered by the times of measurement. */
export function createFirstOut(windowMs = FIRST_OUT_MS): FirstOut {
  const groups = new Map<string, Group>()
  return {
    raised(group, alarm, at) {
      const known = groups.get(group)
      if (!known || Math.abs(at - known.at) > windowMs || known.first === alarm) {
        groups.set(group, { first: alarm, at, followers: new Set() })
        return new Map([[alarm, null]])
      }
      if (at >= known.at) {
        known.followers.add(alarm)
        return new Map([[alarm, known.first]])
      }
      const followers = new Set([...known.followers, known.first])
      followers.delete(alarm)
      groups.set(group, { first: alarm, at, followers })
      return new Map<string, string | null>([
        [alarm, null],
        ...[...followers].map((one) => [one, alarm] as const),
      ])
    },
  }
}
