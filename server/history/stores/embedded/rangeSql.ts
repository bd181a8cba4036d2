import { BAD_QUALITY } from '../../envelope.ts'
import { DAY_MS, type Grid, TIER_MS } from '../../grid.ts'
import type { Struck } from './protocol.ts'
import { type Leaving, notLeaving } from './sealedFiles.ts'
import type { Segment } from './segments.ts'
import { quote, sealedFiles, sqlList } from './sqlText.ts'
import { groupSealed } from './struck.ts'

/** What one answer is read from. */
export interface RangeSource {
  grid: Grid
  signals: readonly string[]
  /** Number of each signal in the signal table, −1 for one that is not in it. */
  ids: readonly number[]
  segments: readonly Segment[]
  leaving: readonly Leaving[]
  struck: readonly Struck[]
  /** Single samples older than this are no longer kept for certain [ms UTC]. */
  rawFrom: number
}

/**
 * Each signal is looked for by itself, which skips more of a file than a list does, as long as no more than this
 * many readings of files come of it.
 */
const MOST_READINGS = 16

/**
 * One statement, hence one consistent view, whose rows are (signal's place, bucket, minimum, maximum, sum,
 * count). A bucket may come in several rows; row −1 tells the last commit in its `sum`.
 */
export function rangeSql(source: RangeSource): string {
  return [progressSql, hotSql(source), ...sealedSql(source)].join('\nUNION ALL\n')
}

const progressSql = `SELECT -1 AS place, 0 AS bucket, 0.0::DOUBLE AS minimum, 0.0::DOUBLE AS maximum,
  commit_number::DOUBLE AS total, 0.0::DOUBLE AS samples FROM progress`

const SAMPLE_COLUMNS = 'min(value), max(value), sum(value), count(*)::DOUBLE'
const ROLLUP_COLUMNS = 'min(minimum), max(maximum), sum(total), sum(samples)::DOUBLE'
const IS_SAMPLE = `value IS NOT NULL AND quality < ${BAD_QUALITY}`

function hotSql({ grid, ids: known, leaving }: RangeSource): string {
  const ids = known.length > 0 ? known : [-1]
  return `SELECT (list_position(${sqlList(ids)}, signal) - 1)::INTEGER, ${bucketSql(grid)}, ${SAMPLE_COLUMNS}
    FROM hot WHERE signal IN (${ids.join(', ')}) AND ${IS_SAMPLE} AND ${betweenSql(grid.from, grid.to)} ${notLeaving(leaving)}
    GROUP BY 1, 2`
}

/** Whole rows of the roll-up in the middle, samples at the two ragged ends. */
function sealedSql(source: RangeSource): string[] {
  const { grid, rawFrom } = source
  if (grid.tier === 'raw') return windowSql(source, 'raw', [grid.from, grid.to])
  const step = TIER_MS[grid.tier]
  const down = (at: number) => Math.floor(at / step) * step
  const up = (at: number) => Math.ceil(at / step) * step
  // where the samples are gone, the row that holds the end is taken whole
  const first = grid.from < rawFrom ? down(grid.from) : up(grid.from)
  const last = grid.to <= rawFrom ? up(grid.to) : down(grid.to)
  if (first >= last) return windowSql(source, 'raw', [grid.from, grid.to])
  return [
    ...windowSql(source, 'raw', [grid.from, first]),
    ...windowSql(source, grid.tier, [first, last]),
    ...windowSql(source, 'raw', [last, grid.to]),
  ]
}

function windowSql(source: RangeSource, tier: Segment['tier'], [from, to]: [number, number]): string[] {
  const touched = source.segments.filter(
    (one) => one.tier === tier && one.firstDay * DAY_MS < to && (one.lastDay + 1) * DAY_MS > from,
  )
  if (from >= to || touched.length === 0) return []
  const columns = tier === 'raw' ? SAMPLE_COLUMNS : ROLLUP_COLUMNS
  const condition = tier === 'raw' ? `${betweenSql(from, to)} AND ${IS_SAMPLE}` : betweenSql(from, to)
  return groupSealed(touched, source.struck, source.signals).flatMap(({ paths, except }) =>
    signalFilters(source.signals, paths.length).map(
      ({ place, filter }) => `SELECT ${place}, ${bucketSql(source.grid)}, ${columns}
    FROM ${sealedFiles(paths)} WHERE ${filter} AND ${condition} ${except} GROUP BY 1, 2`,
    ),
  )
}

function signalFilters(signals: readonly string[], files: number): { place: string; filter: string }[] {
  if (signals.length === 1 || signals.length * files <= MOST_READINGS)
    return signals.map((signal, place) => ({
      place: `${place}::INTEGER`,
      filter: `signal = ${quote(signal)}`,
    }))
  const list = sqlList(signals)
  const sorted = [...signals].sort(byCodePoint)
  const range = `signal BETWEEN ${quote(sorted[0]!)} AND ${quote(sorted.at(-1)!)}`
  return [
    {
      place: `(list_position(${list}, signal) - 1)::INTEGER`,
      filter: `list_contains(${list}, signal) AND ${range}`,
    },
  ]
}

/** The order of UTF-8 bytes, which is the engine's; that of JavaScript differs beyond the first 65 536 signs. */
function byCodePoint(a: string, b: string): number {
  return Buffer.compare(Buffer.from(a), Buffer.from(b))
}

function bucketSql({ start, bucketMs }: Grid): string {
  return `((at_ms - ${start}) // ${bucketMs})::INTEGER`
}

function betweenSql(from: number, to: number): string {
  return `at_ms >= ${from} AND at_ms < ${to}`
}
