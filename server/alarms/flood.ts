import type { AlarmView } from '../wire/alarm.ts'
import { NEVER_RAISED } from './alarm.ts'

/** Id and kind of the notice that stands while more alarms come than a person can follow. */
export const FLOOD_NOTICE = 'alarm-flood'
export const FLOOD_WINDOW_MS = 600_000
/** A flood begins with more than this many alarms in ten minutes (IEC 62682 / ISA-18.2 and EEMUA 191, from memory). */
export const FLOOD_BEGINS_ABOVE = 10
/** It ends with fewer than this many in ten minutes. */
export const FLOOD_ENDS_BELOW = 5
/** Times that are kept; a flood is long since known when they are used up. */
const MOST_KEPT = 1000

/** Counts raises of one operator position: all plants of one server. */
export interface FloodWatch {
  raised(mono: number, now: number): void
  /** Raises within the last ten minutes, and when the flood began; null while there is none. */
  stateAt(mono: number): { count: number; since: number | null }
}

export function createFloodWatch(): FloodWatch {
  let times: number[] = []
  let since: number | null = null

  function stateAt(mono: number): { count: number; since: number | null } {
    times = times.filter((at) => mono - at < FLOOD_WINDOW_MS)
    if (times.length < FLOOD_ENDS_BELOW) since = null
    return { count: times.length, since }
  }

  return {
    raised(mono, now) {
      times.push(mono)
      if (times.length > MOST_KEPT) times.shift()
      if (stateAt(mono).count > FLOOD_BEGINS_ABOVE) since ??= now
    },
    stateAt,
  }
}

/** The flood as a notice among the alarms, so that page and interface show it without knowing more. */
export function floodView(
  { count, since }: { count: number; since: number | null },
  isSimulated: boolean,
): AlarmView {
  const isActive = since !== null
  const { life: _life, ...nothing } = NEVER_RAISED
  return {
    ...nothing,
    id: FLOOD_NOTICE,
    name: 'Alarm flood',
    entry: 'notice',
    kind: 'flood',
    priority: 'medium',
    state: isActive ? 'acknowledged' : 'normal',
    active: isActive,
    unknown: false,
    figure: '',
    condition: `more than ${FLOOD_BEGINS_ABOVE} alarms in 10 min, until fewer than ${FLOOD_ENDS_BELOW}`,
    ...(isActive ? { detail: `${count} alarms in the last 10 min` } : {}),
    quality: 'good',
    raisedAt: since,
    changedAt: since,
    latching: false,
    group: null,
    longestShelfMs: 0,
    hasAmount: false,
    tellsOfLoss: false,
    isForSafety: false,
    simulated: isSimulated,
  }
}
