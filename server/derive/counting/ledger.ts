import { type Amount, amountOf, type Stretch } from '../integrate.ts'
import type { Calendar, LocalDay } from './calendar.ts'
import { eachQuarter, QUARTER_MS, quarterOf } from './quarters.ts'
import { exchanged, notLower, type Recount } from './recount.ts'
import type { CounterStore, DayTotal, QuarterRow } from './storedCounter.ts'
import { createTotals, NO_TOTAL, type Totals } from './totals.ts'

/** Where a counter is kept, and whose days it counts. */
export interface TallyPlace {
  plant: { id: string }
  store: CounterStore
  calendar: Calendar
}

type Span = { from: number; to: number }

/** What each local day, and each quarter of an hour, gave of one counter. */
export interface Ledger {
  days: Totals<string>
  quarters: Totals<number>
  /** Quarters of a span that gave something, in hand or stored. */
  quartersBetween(span: Span): QuarterRow[]
  addStretch(stretch: Stretch): void
  addGap(span: Span): void
  /** @param isShared Nobody knows the shares of the days for sure. */
  addSpread(amount: Pick<Amount, 'value' | 'u95'>, span: Span, isShared: boolean): void
  count(at: number): void
  peak(at: number, value: number): void
  /** From `from` on nothing is known up to `before`, where it had begun. */
  beginEarlier(from: number, before: number): void
  /** Puts quarters that were counted anew in the place of what they held; returns both of each. */
  exchange(
    anew: Recount,
    counted: { since: number; at: number },
    keeps: boolean,
  ): { before: DayTotal; after: DayTotal }[]
}

export function createLedger({ plant, store, calendar }: TallyPlace, id: string): Ledger {
  const days = createTotals<string>((date) =>
    withoutKey(store.days(plant.id, id, { from: date, to: date })[0]),
  )
  const quarters = createTotals<number>((from) =>
    withoutKey(store.quarters(plant.id, id, { from, to: from + 1 })[0]),
  )

  /** Calls for each local day that a span touches, with the part of the span inside it. */
  function eachDay({ from, to }: Span, take: (date: string, from: number, to: number) => void): void {
    for (let begin = from; begin < to; ) {
      const { date, end } = calendar.dayOf(begin)
      take(date, begin, Math.min(end, to))
      begin = end
    }
  }

  function addStretch(stretch: Stretch): void {
    if (stretch.kind === 'gap') {
      addGap(stretch)
      return
    }
    eachDay(stretch, (date, from, to) => days.add(date, amountOf(stretch, from, to)))
    eachQuarter(stretch, (quarter, from, to) => quarters.add(quarter, amountOf(stretch, from, to)))
  }

  /** Days and quarters that were missed altogether need no row: who looks finds them missing. */
  function addGap({ from, to }: Span): void {
    const [first, last] = [calendar.dayOf(from), calendar.dayOf(to)]
    days.add(first.date, gapOf(Math.min(to, first.end) - from))
    if (first.date !== last.date && to > last.start) days.add(last.date, gapOf(to - last.start))
    const [begun, ended] = [quarterOf(from), quarterOf(to)]
    quarters.add(begun, gapOf(Math.min(to, begun + QUARTER_MS) - from))
    if (begun !== ended && to > ended) quarters.add(ended, gapOf(to - ended))
  }

  function addSpread(amount: Pick<Amount, 'value' | 'u95'>, whole: Span, isShared: boolean): void {
    const shareOf = (begin: number, end: number) => {
      const share = (end - begin) / (whole.to - whole.from)
      const u95 = amount.u95 === null ? null : amount.u95 * share
      const uncertainSeconds = isShared ? (end - begin) / 1000 : 0
      return { value: amount.value * share, gapSeconds: 0, uncertainSeconds, u95 }
    }
    eachDay(whole, (date, begin, end) => days.add(date, shareOf(begin, end)))
    eachQuarter(whole, (quarter, begin, end) => quarters.add(quarter, shareOf(begin, end)))
  }

  function exchange(anew: Recount, counted: { since: number; at: number }, keeps: boolean) {
    const found = new Map(anew.quarters.map((row) => [row.quarter, withoutKey(row)]))
    const pairs: { before: DayTotal; after: DayTotal }[] = []
    for (let quarter = anew.from; quarter < anew.to; quarter += QUARTER_MS) {
      const next = found.get(quarter) ?? NO_TOTAL
      pairs.push(exchangeOne(quarter, counted, (before) => (keeps ? notLower(before, next) : next)))
    }
    return pairs
  }

  function exchangeOne(
    quarter: number,
    { since, at }: { since: number; at: number },
    next: (before: DayTotal) => DayTotal,
  ): { before: DayTotal; after: DayTotal } {
    const day = calendar.dayOf(quarter)
    const missed = (span: Pick<LocalDay, 'start' | 'end'>) => ({
      ...NO_TOTAL,
      gapSeconds: overlap(span, since, at) / 1000,
    })
    const before = quarters.of(quarter) ?? missed({ start: quarter, end: quarter + QUARTER_MS })
    const total = days.of(day.date) ?? missed(day)
    const anew = next(before)
    const uncounted = Math.max(0, since - quarter) / 1000
    const after = { ...anew, gapSeconds: Math.max(0, anew.gapSeconds - uncounted) }
    quarters.put(quarter, after)
    const isHighest = before.peak !== null && before.peak === total.peak
    const peak = isHighest ? highestOf(day) : highest([total.peak, after.peak])
    days.put(day.date, { ...exchanged(total, before, after), peak })
    return { before, after }
  }

  function quartersBetween({ from, to }: Span): QuarterRow[] {
    const rows = new Map(store.quarters(plant.id, id, { from, to }).map((row) => [row.quarter, row]))
    for (const [quarter, total] of quarters.inHand())
      if (quarter >= from && quarter < to) rows.set(quarter, { quarter, ...total })
    return [...rows.values()]
  }

  const highestOf = ({ start, end }: LocalDay) =>
    highest(quartersBetween({ from: start, to: end }).map((row) => row.peak))

  return {
    days,
    quarters,
    quartersBetween,
    addStretch,
    addGap,
    addSpread,
    exchange,
    count(at) {
      const one = { value: 1, gapSeconds: 0, uncertainSeconds: 0, u95: null }
      days.add(calendar.dayOf(at).date, one)
      quarters.add(quarterOf(at), one)
    },
    peak(at, value) {
      raisePeak(days, calendar.dayOf(at).date, value)
      raisePeak(quarters, quarterOf(at), value)
    },
    beginEarlier(from, before) {
      const [day, quarter] = [calendar.dayOf(before), quarterOf(before)]
      if (days.of(day.date)) days.add(day.date, gapOf(before - Math.max(from, day.start)))
      if (quarters.of(quarter)) quarters.add(quarter, gapOf(before - quarter))
    },
  }
}

export function overlap({ start, end }: Pick<LocalDay, 'start' | 'end'>, from: number, to: number): number {
  return Math.max(0, Math.min(end, to) - Math.max(start, from))
}

function gapOf(ms: number): Amount {
  return { value: 0, gapSeconds: ms / 1000, uncertainSeconds: 0, u95: 0 }
}

function withoutKey(row: DayTotal | undefined): DayTotal | undefined {
  if (!row) return undefined
  const { value, gapSeconds, uncertainSeconds, u95, peak } = row
  return { value, gapSeconds, uncertainSeconds, u95, peak }
}

function raisePeak<Key extends string | number>(totals: Totals<Key>, key: Key, value: number): void {
  const total = totals.of(key) ?? NO_TOTAL
  if (value > (total.peak ?? Number.NEGATIVE_INFINITY)) totals.put(key, { ...total, peak: value })
}

function highest(peaks: readonly (number | null)[]): number | null {
  const known = peaks.filter((one) => one !== null)
  return known.length === 0 ? null : Math.max(...known)
}
