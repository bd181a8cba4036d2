import {
  type Amount,
  amountOf,
  type CounterState,
  EMPTY_STATE,
  plus,
  type Rhythm,
  type Sample,
  stretchTo,
  USUAL_RHYTHM,
} from '../integrate.ts'
import type { LocalDay } from './calendar.ts'
import { createLedger, overlap, type TallyPlace } from './ledger.ts'
import { quarterOf } from './quarters.ts'
import { exchanged, type Recount } from './recount.ts'
import type {
  CounterChange,
  CounterSource,
  DayRow,
  DayTotal,
  QuarterRow,
  StoredCounter,
} from './storedCounter.ts'
import { NO_TOTAL } from './totals.ts'

/** A day of a counter, also one that was missed altogether. */
export interface CountedDay extends DayRow, LocalDay {}

/** A total that is kept, and what each local day gave of it. */
export interface Tally {
  readonly id: string
  readonly source: CounterSource
  /** What else is kept with it. */
  memory: unknown
  state(): CounterState
  /** Null before `begin`. */
  since(): number | null
  /** Call on every tick: begins to count, and believes a clock that was set back. */
  begin(now: number): void
  /** Adds the time since the last sample. */
  take(sample: Sample): void
  /** Adds an amount, with its ±, that came in evenly between two moments; over midnight nobody knows its shares for sure. */
  spread(amount: Pick<Amount, 'value' | 'u95'>, span: { from: number; to: number }): void
  /** Adds a time of which nothing is known. */
  lose(span: { from: number; to: number }): void
  /** Adds one to the day of `at`. */
  count(at: number): void
  /** The highest value of an event, kept with its day. */
  peak(at: number, value: number): void
  /** Puts quarters that were counted anew in the place of what they held. @param keeps That no event is lost by it. */
  recount(anew: Recount, keeps: boolean): void
  /** Dates from one to another, as far as days were kept; up to `now` the last one. */
  days(span: { from: string; to: string }, now: number): CountedDay[]
  /** Quarters of an hour of a span [ms UTC] that gave something. */
  quarters(span: { from: number; to: number }): QuarterRow[]
  /** How long [s] nothing has come, once that is too long to be bridged. */
  openSeconds(now: number): number
  /** What must be stored; undefined when nothing changed. */
  change(): CounterChange | undefined
  saved(): void
}

interface TallyOptions extends Pick<Tally, 'id' | 'source'> {
  rhythm?: Rhythm
}

/** A last sample this far [ms] ahead of the clock shows that the clock was set back. */
export const AHEAD_MS = 60_000
/** An amount over a longer time [ms] is not spread over its days: some clocks begin in 1970. */
const LONGEST_SPREAD_MS = 400 * 86_400_000

export function createTally({ plant, store, calendar }: TallyPlace, options: TallyOptions): Tally {
  const { id, source, rhythm = USUAL_RHYTHM } = options
  const stored = store.load(plant.id, id)
  let state = stored?.state ?? EMPTY_STATE
  let since = stored?.since ?? null
  let savedState: CounterState | undefined
  let savedMemory: unknown = stored?.memory
  const ledger = createLedger({ plant, store, calendar }, id)

  function lose(span: { from: number; to: number }): void {
    if (span.to <= span.from) return
    ledger.addGap(span)
    state = { ...state, gapSeconds: state.gapSeconds + (span.to - span.from) / 1000 }
  }

  function take(sample: Sample): void {
    if (Number.isNaN(sample.rate)) return
    if (state.at === null) {
      lose({ from: since ?? sample.at, to: sample.at })
      state = { ...state, at: sample.at, last: sample.rate }
      return
    }
    const stretch = stretchTo(state, sample, rhythm)
    if (!stretch) return
    ledger.addStretch(stretch)
    state = { ...plus(state, amountOf(stretch)), at: sample.at, last: sample.rate }
  }

  function spread(amount: Pick<Amount, 'value' | 'u95'>, { from, to }: { from: number; to: number }): void {
    const whole = { from: to - from > LONGEST_SPREAD_MS ? to - 1 : from, to }
    const isShared = to > calendar.dayOf(whole.from).end && to - whole.from > rhythm.heldMs
    ledger.addSpread(amount, whole, isShared)
    const sum = plus(state, { ...amount, gapSeconds: 0, uncertainSeconds: 0 })
    state = { ...sum, at: Math.max(to, state.at ?? to), last: null }
  }

  function recount(anew: Recount, keeps: boolean): void {
    if (since === null) return
    if (anew.from < quarterOf(since)) beginEarlier(anew.from, since)
    const counted = { since, at: state.at ?? since }
    for (const { before, after } of ledger.exchange(anew, counted, keeps))
      state = exchanged(state, before, after)
    if (counted.at >= anew.to) return
    state = { ...state, at: anew.to, last: null }
    tally.memory = anew.memory
  }

  function beginEarlier(from: number, before: number): void {
    ledger.beginEarlier(from, before)
    since = from
    state = { ...state, at: state.at ?? before, gapSeconds: state.gapSeconds + (before - from) / 1000 }
  }

  function begin(now: number): void {
    since ??= now
    if (state.at !== null && state.at > now + AHEAD_MS) state = { ...state, at: now, last: null }
  }

  function listDays({ from, to }: { from: string; to: string }, now: number): CountedDay[] {
    if (since === null) return []
    const first = later(from, calendar.dayOf(since).date)
    const last = earlier(to, calendar.dayOf(Math.max(now, state.at ?? now)).date)
    if (first > last) return []
    const rows = new Map<string, DayTotal>(
      store.days(plant.id, id, { from: first, to: last }).map(({ date, ...total }) => [date, total]),
    )
    for (const [date, total] of ledger.days.inHand()) rows.set(date, total)
    const list: CountedDay[] = []
    for (let day = calendar.day(first); day.date <= last; day = calendar.day(day.next))
      list.push({ ...day, ...withMissedTime(day, rows.get(day.date), now) })
    return list
  }

  /** A day without a row was missed altogether; and a silence that goes on is a gap before its end is known. */
  function withMissedTime(day: LocalDay, total: DayTotal | undefined, now: number): DayTotal {
    const at = state.at ?? since!
    const open = openSeconds(now) > 0 ? overlap(day, at, now) : 0
    const missed = total ? 0 : overlap(day, since!, at)
    const known = total ?? NO_TOTAL
    return { ...known, gapSeconds: known.gapSeconds + (open + missed) / 1000 }
  }

  function openSeconds(now: number): number {
    const at = state.at ?? since ?? now
    return state.at === null || now - at > rhythm.heldMs ? Math.max(0, now - at) / 1000 : 0
  }

  function change(): CounterChange | undefined {
    if (since === null) return undefined
    const [ofDays, ofQuarters] = [ledger.days.unsaved(), ledger.quarters.unsaved()]
    if (state === savedState && tally.memory === savedMemory && ofDays.length + ofQuarters.length === 0)
      return undefined
    const { memory } = tally
    const counter: StoredCounter = { id, since, source, state }
    return {
      counter: memory === undefined ? counter : { ...counter, memory },
      days: ofDays.map(([date, total]) => ({ date, ...total })),
      quarters: ofQuarters.map(([quarter, total]) => ({ quarter, ...total })),
    }
  }

  function saved(): void {
    savedState = state
    savedMemory = tally.memory
    ledger.days.saved()
    ledger.quarters.saved()
  }

  const tally: Tally = {
    id,
    source,
    memory: stored?.memory,
    begin,
    take,
    spread,
    lose,
    recount,
    days: listDays,
    quarters: ledger.quartersBetween,
    openSeconds,
    change,
    saved,
    state: () => state,
    since: () => since,
    count(at) {
      ledger.count(at)
      state = { ...state, value: state.value + 1, u95: null }
    },
    peak: ledger.peak,
  }
  return tally
}

function later(a: string, b: string): string {
  return a > b ? a : b
}

function earlier(a: string, b: string): string {
  return a < b ? a : b
}
