import { DAY_MS } from '../../grid.ts'
import type { RetentionDays } from './protocol.ts'
import { TIERS } from './sealedFiles.ts'
import { overlaps, type Segment } from './segments.ts'

/** Before this program was written no clock was right [ms UTC]. */
export const EARLIEST_NOW = Date.UTC(2026, 10, 1)

/**
 * Why the clock cannot be right, in one sentence; undefined when it may be. Hosts without a battery-backed clock
 * start in the past; a wrong clock must neither seal nor delete.
 */
export function clockFault(segments: readonly Segment[], now: number): string | undefined {
  const newest = segments.reduce((day, one) => (one.span === 'day' ? Math.max(day, one.lastDay) : day), -1)
  const earliest = Math.max(EARLIEST_NOW, (newest + 1) * DAY_MS)
  if (now >= earliest) return undefined
  const [shown, bound] = [now, earliest].map((at) => new Date(at).toISOString())
  return `history: the clock says ${shown}, but it must be later than ${bound}; nothing is sealed or deleted until it is set`
}

/**
 * Start of the time for which a tier is kept for certain [ms UTC], as far as a query from `from` on is concerned:
 * −Infinity when nothing older was ever sealed.
 */
export function keptFrom(
  segments: readonly Segment[],
  tier: 'raw' | 'minute',
  { now, days, from }: { now: number; days: number; from: number },
): number {
  const hours = segments.filter((one) => one.tier === 'hour')
  const firstDay = Math.min(...hours.map((one) => one.firstDay))
  const oldest = Math.min(...segments.filter((one) => one.tier === tier).map((one) => one.firstDay))
  // a longer retention than before brings nothing back
  const isCut = Number.isFinite(oldest) && firstDay < spanStart(oldest, segments)
  const kept = Math.max(Math.floor(now / DAY_MS) - days, isCut ? oldest : Number.NEGATIVE_INFINITY)
  const isTouched = hours.some((one) => one.firstDay < kept && (one.lastDay + 1) * DAY_MS > from)
  return isTouched ? kept * DAY_MS : Number.NEGATIVE_INFINITY
}

/** First day of the widest hour file that holds `day`: a month file begins before the first day with rows. */
function spanStart(day: number, segments: readonly Segment[]): number {
  const holding = segments.filter((one) => one.tier === 'hour' && one.firstDay <= day && one.lastDay >= day)
  return Math.min(day, ...holding.map((one) => one.firstDay))
}

/**
 * Files whose time is over: of each tier those of the oldest day, month or year only, so that a clock that is wrong
 * for an hour deletes a few days and not everything. What came late for these days goes with the rest of them: a day
 * of which a part is left would be taken for a whole one. An hour file goes only when no finer file of its days is
 * left, since it is what tells that those days are sealed.
 */
export function findExpired(segments: readonly Segment[], now: number, days: RetentionDays): Segment[] {
  return TIERS.flatMap((tier) => {
    const expired = segments.filter(
      (one) => one.tier === tier && (one.lastDay + 1 + days[tier]) * DAY_MS <= now,
    )
    const oldest = expired.toSorted((a, b) => a.firstDay - b.firstDay || a.serial - b.serial)[0]
    if (!oldest || (tier === 'hour' && hasFiner(segments, oldest))) return []
    return expired.filter((one) => overlaps(one, oldest))
  })
}

function hasFiner(segments: readonly Segment[], hour: Segment): boolean {
  return segments.some(
    (one) => one.tier !== 'hour' && one.firstDay <= hour.lastDay && one.lastDay >= hour.firstDay,
  )
}

/**
 * The oldest files that have to go for `excess` bytes: samples first, minutes only when of the samples no more than the
 * newest day is left, hours never. A tier keeps its newest day, which tells since when it is cut.
 */
export function findOversize(segments: readonly Segment[], excess: number): Segment[] {
  const going: Segment[] = []
  let left = excess
  for (const tier of ['raw', 'minute'] as const) {
    const ofTier = segments
      .filter((one) => one.tier === tier)
      .sort((a, b) => a.firstDay - b.firstDay || a.serial - b.serial)
    const newest = Math.max(...ofTier.map((one) => one.lastDay))
    while (left > 0) {
      const oldest = ofTier.find((one) => !going.includes(one))
      const together = oldest ? ofTier.filter((one) => !going.includes(one) && overlaps(one, oldest)) : []
      if (together.length === 0 || together.some((one) => one.lastDay >= newest)) break
      going.push(...together)
      left -= together.reduce((sum, one) => sum + one.bytes, 0)
    }
  }
  return going
}
