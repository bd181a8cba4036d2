import { high } from './high.ts'
import type { AlarmKind } from './kind.ts'

/**
 * As `high`, but judged on every raw reading and on peak-hold values, at once: one sample is enough. A small
 * unit passes 120 % within half a second of losing its load, so nothing may filter or delay it. It tells
 * people; it cannot protect the machine, which needs its own hard-wired trip.
 */
export const overSpeed: AlarmKind = { ...high, id: 'overSpeed', isRaw: true }
