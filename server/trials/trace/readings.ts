import type { Reading } from '../../ingest/reading.ts'

/** Readings of one instrument in columns of equal length, by time of measurement. */
export interface Series {
  /** [ms UTC] */
  at: number[]
  /** SI. */
  value: number[]
  /** Places of readings whose quality was not good. */
  doubtful: number[]
}

/** Readings by quantity. */
export type SeriesSet = Readonly<Record<string, Series>>

/** A piece of a trace as it is stored: every reading as [at, value] or [at, value, 1] where its quality was not good. */
export type TracePart = Record<
  string,
  ([at: number, value: number] | [at: number, value: number, doubtful: 1])[]
>

export function partOf(readings: readonly Reading[]): TracePart {
  const part: TracePart = {}
  for (const { quantity, measuredAt, value, quality } of readings) {
    part[quantity] ??= []
    part[quantity].push(quality === 'good' ? [measuredAt, value] : [measuredAt, value, 1])
  }
  return part
}

/** Puts pieces together: in order of measurement, what came twice once. */
export function seriesOf(rawParts: readonly string[]): SeriesSet {
  const together: TracePart = {}
  for (const raw of rawParts)
    for (const [quantity, readings] of Object.entries(JSON.parse(raw) as TracePart)) {
      together[quantity] ??= []
      for (const reading of readings) together[quantity].push(reading)
    }
  return Object.fromEntries(
    Object.entries(together).map(([quantity, readings]) => [quantity, inOrder(readings)]),
  )
}

function inOrder(readings: TracePart[string]): Series {
  const series: Series = { at: [], value: [], doubtful: [] }
  for (const [at, value, doubtful] of [...readings].sort((a, b) => a[0] - b[0])) {
    if (series.at.at(-1) === at) continue
    if (doubtful) series.doubtful.push(series.at.length)
    series.at.push(at)
    series.value.push(value)
  }
  return series
}

export function countOf(part: TracePart): number {
  return Object.values(part).reduce((sum, readings) => sum + readings.length, 0)
}

/** Readings of one instrument that are remembered before a trigger; the oldest go when there are more. */
export const MOST_RECENT = 2000

/** The last seconds of every instrument, and the reading before them, so that slow ones and contacts are known too. */
export interface RecentReadings {
  take(reading: Reading): void
  /** Forgets what is older than `spanMs` before `now`. */
  all(now: number): Reading[]
  clear(): void
}

export function createRecentReadings(spanMs: number): RecentReadings {
  const byInstrument = new Map<string, Reading[]>()
  return {
    take(reading) {
      const kept = byInstrument.get(reading.instrument) ?? []
      byInstrument.set(reading.instrument, kept)
      kept.push(reading)
      prune(kept, reading.measuredAt - spanMs)
    },
    all(now) {
      for (const kept of byInstrument.values()) prune(kept, now - spanMs)
      return [...byInstrument.values()].flat()
    },
    clear: () => byInstrument.clear(),
  }
}

/** The newest reading at or before `from` stays. */
function prune(kept: Reading[], from: number): void {
  let old = Math.max(0, kept.length - MOST_RECENT)
  while (old + 1 < kept.length && kept[old + 1]!.measuredAt <= from) old++
  if (old > 0) kept.splice(0, old)
}
