import { DAY_MS, type TierName } from '../../grid.ts'

export type Span = 'day' | 'month' | 'year'

/**
 * One sealed file. It never changes; rows that come late for its days go into further files.
 * The list of names in the folders is the whole register: there is no index beside it that could disagree.
 */
export interface Segment {
  tier: TierName
  span: Span
  /** First and last day that it may hold rows of [days since 1970, UTC]. */
  firstDay: number
  lastDay: number
  /** Counts up with every file that is made: of two files, which one came later. */
  serial: number
  /** For files of one day: rows of that day up to this commit are in the files, later ones are not. */
  through: number
  path: string
  bytes: number
}

export type SegmentName = Pick<Segment, 'span' | 'firstDay' | 'lastDay' | 'serial' | 'through'>

const NAME = /^(\d{4})(?:-(\d\d)(?:-(\d\d))?)?\.(\d{1,9})\.(\d{1,10})\.parquet$/

/** "2026-11-25" for a day, "2026-11" for the month and "2026" for the year that it lies in. */
export function spanLabel(span: Span, day: number): string {
  const length = { day: 10, month: 7, year: 4 }[span]
  return new Date(day * DAY_MS).toISOString().slice(0, length)
}

/** First and last day of the day, month or year that a day lies in. */
export function spanDays(span: Span, day: number): { firstDay: number; lastDay: number } {
  const date = new Date(day * DAY_MS)
  const year = date.getUTCFullYear()
  const month = date.getUTCMonth()
  if (span === 'day') return { firstDay: day, lastDay: day }
  if (span === 'month') return daysBetween(Date.UTC(year, month), Date.UTC(year, month + 1))
  return daysBetween(Date.UTC(year, 0), Date.UTC(year + 1, 0))
}

function daysBetween(start: number, end: number): { firstDay: number; lastDay: number } {
  return { firstDay: start / DAY_MS, lastDay: end / DAY_MS - 1 }
}

export function segmentName({ span, firstDay, serial, through }: Omit<SegmentName, 'lastDay'>): string {
  return `${spanLabel(span, firstDay)}.${serial}.${through}.parquet`
}

/** Reads a file name back; undefined for a name that is none of ours. */
export function parseSegmentName(name: string): SegmentName | undefined {
  const parts = NAME.exec(name)
  if (!parts) return undefined
  const [, year, month, date, serial, through] = parts
  const span = date ? 'day' : month ? 'month' : 'year'
  const day = Math.floor(Date.UTC(Number(year), Number(month ?? 1) - 1, Number(date ?? 1)) / DAY_MS)
  return { span, ...spanDays(span, day), serial: Number(serial), through: Number(through) }
}

/** True when everything in `inner` is in `outer` too: a merged file of the tier that was made later. */
export function isContained(inner: Segment, outer: Segment): boolean {
  return (
    inner.tier === outer.tier && outer.span !== 'day' && covers(outer, inner) && outer.serial > inner.serial
  )
}

/** True when the rows of `source`, of a finer tier, are in `rollup`: it was sealed with it, or merged later. */
export function holdsRowsOf(rollup: Segment, source: Segment): boolean {
  if (rollup.span !== 'day') return covers(rollup, source) && rollup.serial > source.serial
  return (
    source.span === 'day' &&
    rollup.firstDay === source.firstDay &&
    rollup.serial === source.serial &&
    rollup.through === source.through
  )
}

/**
 * Tells files that count from what an interrupted run left behind. A day is sealed by the last of its three
 * files, the one of the hour tier: without it the rows are still in the hot table. When they are not there
 * either, the hour file was lost otherwise, and what is left of the day counts. A file that a later month or
 * year file contains was merged into that.
 *
 * @param isHot True when the hot table still holds rows of that day file.
 */
export function sortOut(
  found: readonly Segment[],
  isHot: (segment: Segment) => boolean,
): { kept: Segment[]; leftovers: Segment[] } {
  const hours = found.filter((segment) => segment.tier === 'hour')
  // the attempt after a failed one takes its serial number
  const isAttemptedAgain = ({ serial }: Segment) =>
    hours.some((hour) => hour.span === 'day' && hour.serial === serial)
  const isSealed = (segment: Segment) =>
    segment.tier === 'hour' ||
    segment.span !== 'day' ||
    hours.some((hour) => holdsRowsOf(hour, segment)) ||
    !(isHot(segment) || isAttemptedAgain(segment))
  const isMerged = (segment: Segment) => found.some((outer) => isContained(segment, outer))
  const kept = found.filter((segment) => isSealed(segment) && !isMerged(segment))
  return { kept, leftovers: found.filter((segment) => !kept.includes(segment)) }
}

export function overlaps(one: Segment, other: Segment): boolean {
  return one.firstDay <= other.lastDay && one.lastDay >= other.firstDay
}

function covers(outer: Segment, inner: Segment): boolean {
  return outer.firstDay <= inner.firstDay && outer.lastDay >= inner.lastDay
}
