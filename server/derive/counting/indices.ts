import type { IndexValue, IndexView } from '../../wire/replies.ts'
import { STRAIGHT_MS } from '../integrate.ts'
import { commonSums } from './commonTime.ts'
import type { CounterContext } from './counterContext.ts'
import { type IndexKind, indexKinds, NOTHING_KNOWN } from './indexKinds.ts'
import { periodOf } from './periods.ts'
import type { Tally } from './tally.ts'

/** An index with less than this share of its time missing or bridged counts as good [default]. */
const GOOD_SHARE = 0.01
/** Counters that began within this time [ms] of each other began together. */
const TOGETHER_MS = 60_000
const LONGEST_SUM_DAYS = 366

/** Indices over this month and since counting began; computed on asking, never stored. */
export function viewIndices(
  tallies: ReadonlyMap<string, Tally>,
  context: CounterContext,
  now: number,
): IndexView[] {
  return indexKinds.map((kind) => {
    const { id, name, unit, viewUnit, formula, needs } = kind
    const counted = kind.counters.flatMap((counter) => tallies.get(counter) ?? [])
    const constants = (kind.constants ?? []).flatMap((path) => context.plant.constants.get(path) ?? [])
    const head = { id, name, unit, viewUnit, formula }
    const isLacking =
      counted.length < kind.counters.length || constants.length < (kind.constants?.length ?? 0)
    if (isLacking) return { ...head, needs, thisMonth: null, since: null }
    const { calendar } = context
    const today = calendar.dayOf(now)
    const valueFrom = (start: number) => {
      const begin = commonBegin(counted, start, context)
      return begin === null || begin >= now ? null : reckon(kind, { counted, constants, begin, now, context })
    }
    return {
      ...head,
      thisMonth: valueFrom(calendar.day(calendar.monthStart(today.date)).start),
      since: valueFrom(calendar.day(calendar.shift(today.date, -LONGEST_SUM_DAYS)).start),
    }
  })
}

/**
 * The first moment from which on all of them counted; where they began apart, the first whole day of all, since
 * less than a day cannot be told from its total. Null before that.
 */
function commonBegin(counted: readonly Tally[], start: number, { calendar }: CounterContext): number | null {
  const begins = counted.map((tally) => tally.since())
  if (begins.includes(null)) return null
  const [first, last] = [Math.min(...(begins as number[])), Math.max(...(begins as number[]))]
  if (last <= start) return start
  return last - Math.max(first, start) <= TOGETHER_MS ? last : calendar.dayOf(last).end
}

interface Reckoning {
  counted: readonly Tally[]
  constants: readonly number[]
  begin: number
  now: number
  context: CounterContext
}

function reckon(kind: IndexKind, { counted, constants, begin, now, context }: Reckoning): IndexValue {
  const span = { from: context.calendar.dayOf(begin).date, to: context.calendar.dayOf(now).date }
  const common =
    kind.isRatio &&
    commonSums(
      counted,
      counted.map((tally) => tally.days(span, now)),
      { begin, now },
    )
  const sums = counted.map((tally) => periodOf(tally, span, now))
  const missed = sums.map((sum) => sum?.gapSeconds ?? 0)
  const unknownSeconds = common ? common.leftOutSeconds : Math.max(...missed)
  const bridged = common
    ? common.uncertainSeconds
    : Math.max(...sums.map((sum) => sum?.uncertainSeconds ?? 0))
  const elapsed = (now - begin) / 1000
  const amounts = common ? common.amounts : sums.map((sum) => sum?.value ?? 0)
  const time = { elapsed, unknown: Math.min(unknownSeconds, elapsed) }
  const value = common && unknownSeconds >= elapsed ? NOTHING_KNOWN : kind.value(amounts, time, constants)
  const most = unknownSeconds > 0 ? kind.most?.(amounts, time, constants) : undefined
  const reasons = typeof value === 'string' ? [value] : []
  const bridgeable = Math.max(STRAIGHT_MS / 1000, GOOD_SHARE * elapsed)
  if (unknownSeconds > bridgeable) reasons.push('part of the time is not known')
  if (bridged > bridgeable) reasons.push('part of it was counted from uncertain figures')
  return {
    from: begin,
    to: now,
    value: typeof value === 'string' ? null : value,
    unknownSeconds,
    ...(most === undefined || typeof value === 'string' ? {} : { most }),
    quality: typeof value === 'string' ? 'bad' : reasons.length > 0 ? 'uncertain' : 'good',
    reasons,
  }
}
