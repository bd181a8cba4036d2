import type { AlarmFile } from '../../plant/schema.ts'
import type { FieldReader } from './kind.ts'

/** A level and how long it has to be held. */
export interface LevelTime {
  /** SI. */
  limit: number
  forMs: number
}

/** @throws {AmountFault} */
export function readLevels(fields: FieldReader): LevelTime[] {
  return (fields.file.levels ?? []).map((one) => ({
    limit: fields.level('levels', one.limit),
    forMs: one.for,
  }))
}

/** "at or above 105 % of rated for 60 s, or 110 % of rated for 1 s" */
export function levelsText(levels: NonNullable<AlarmFile['levels']>): string {
  return `at or above ${levels
    .map((one) => (one.for === 0 ? one.limit : `${one.limit} for ${one.for / 1000} s`))
    .join(', or ')}`
}

/** Times that a value has spent at its levels, by the times of measurement. */
export interface LevelTimes {
  /** Whether a level has been held for its time, up to this value at this time. */
  update(value: number, at: number): boolean
  /** Whether it is at any level, whatever the time. */
  isBeyond(value: number): boolean
  /** When the level was first reached that has been held longest; undefined while none is. */
  since(): number | undefined
}

/**
 * Any level that is held for its time counts; what was raised lasts until the value is a deadband below the lowest
 * level that raised it. A time begins anew whenever the value drops below its level.
 */
export function createLevelTimes(
  levels: readonly LevelTime[],
  deadband: number,
  wasHeld: boolean,
): LevelTimes {
  const since: (number | undefined)[] = levels.map(() => undefined)
  const lowest = Math.min(...levels.map((one) => one.limit))
  let heldLimit = wasHeld ? lowest : undefined

  return {
    update(value, at) {
      levels.forEach(({ limit, forMs }, i) => {
        if (value < limit) {
          since[i] = undefined
          return
        }
        since[i] = Math.min(since[i] ?? at, at)
        if (at - since[i]! >= forMs) heldLimit = Math.min(heldLimit ?? limit, limit)
      })
      if (heldLimit !== undefined && value < heldLimit - deadband) heldLimit = undefined
      return heldLimit !== undefined
    },
    isBeyond: (value) => value >= lowest,
    since() {
      const times = since.filter((one) => one !== undefined)
      return times.length === 0 ? undefined : Math.min(...times)
    },
  }
}
