import {
  type Amount,
  amountOf,
  type CounterState,
  EMPTY_STATE,
  plus,
  type Rhythm,
  type Sample,
  type Stretch,
  stretchTo,
  USUAL_RHYTHM,
} from '../integrate.ts'
import type { Calendar, LocalDay } from './calendar.ts'
import type {
  CounterChange,
  CounterSource,
  CounterStore,
  DayRow,
  DayTotal,
  StoredCounter,
} from './storedCounter.ts'

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
  /** Dates from one to another, as far as days were kept; up to `now` the last one. */
  days(span: { from: string; to: string }, now: number): CountedDay[]
  /** How long [s] nothing has come, once that is too long to be bridged. */
  openSeconds(now: number): number
  /** What must be stored; undefined when nothing changed. */
  change(): CounterChange | undefined
  saved(): void
}

/** Where a counter is kept, and whose days it counts. */
export interface TallyPlace {
  plant: { id: string }
  store: CounterStore
  calendar: Calendar
}

interface TallyOptions extends Pick<Tally, 'id' | 'source'> {
  rhythm?: Rhythm
}

/** A last sample this far [ms] ahead of the clock shows that the clock was set back. */
export const AHEAD_MS = 60_000
/** An amount over a longer time [ms] is not spread over its days: some clocks begin in 1970. */
const LONGEST_SPREAD_MS = 400 * 86_400_000
const NO_TOTAL: DayTotal = { value: 0, gapSeconds: 0, uncertainSeconds: 0, u95: 0, peak: null }

export function createTally({ plant, store, calendar }: TallyPlace, options: TallyOptions): Tally {
  const { id, source, rhythm = USUAL_RHYTHM } = options
  const stored = store.load(plant.id, id)
  let state = stored?.state ?? EMPTY_STATE
  let since = stored?.since ?? null
  let savedState: CounterState | undefined
  let savedMemory: unknown = stored?.memory
  /** Days in hand: the newest, and those that are not stored yet. */
  const inHand = new Map<string, DayTotal>()
  const unsaved = new Set<string>()

  const read = (date: string) => store.days(plant.id, id, { from: date, to: date })[0]
  const totalOf = (date: string) => inHand.get(date) ?? read(date) ?? NO_TOTAL

  function put(date: string, total: DayTotal): void {
    inHand.set(date, total)
    unsaved.add(date)
  }

  function addToDay(date: string, amount: Amount): void {
    put(date, plus(totalOf(date), amount))
  }

  /** Calls for each local day that a span touches, with the part of the span inside it. */
  function eachDay(
    { from, to }: { from: number; to: number },
    take: (date: string, from: number, to: number) => void,
  ): void {
    for (let begin = from; begin < to; ) {
      const { date, end } = calendar.dayOf(begin)
      take(date, begin, Math.min(end, to))
      begin = end
    }
  }

  function addStretch(stretch: Stretch): void {
    if (stretch.kind === 'gap') addGap(stretch)
    else eachDay(stretch, (date, from, to) => addToDay(date, amountOf(stretch, from, to)))
  }

  /** Days that were missed altogether need no row: `days` finds them missing. */
  function addGap({ from, to }: { from: number; to: number }): void {
    const [first, last] = [calendar.dayOf(from), calendar.dayOf(to)]
    const gap = (seconds: number) => ({ value: 0, gapSeconds: seconds / 1000, uncertainSeconds: 0, u95: 0 })
    addToDay(first.date, gap(Math.min(to, first.end) - from))
    if (first.date !== last.date && to > last.start) addToDay(last.date, gap(to - last.start))
  }

  function lose(span: { from: number; to: number }): void {
    if (span.to <= span.from) return
    addGap(span)
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
    addStretch(stretch)
    state = { ...plus(state, amountOf(stretch)), at: sample.at, last: sample.rate }
  }

  function spread(amount: Pick<Amount, 'value' | 'u95'>, { from, to }: { from: number; to: number }): void {
    const whole = { from: to - from > LONGEST_SPREAD_MS ? to - 1 : from, to }
    const isShared = to > calendar.dayOf(whole.from).end && to - whole.from > rhythm.heldMs
    eachDay(whole, (date, begin, end) => {
      const share = (end - begin) / (to - whole.from)
      const uncertainSeconds = isShared ? (end - begin) / 1000 : 0
      const u95 = amount.u95 === null ? null : amount.u95 * share
      addToDay(date, { value: amount.value * share, gapSeconds: 0, uncertainSeconds, u95 })
    })
    const sum = plus(state, { ...amount, gapSeconds: 0, uncertainSeconds: 0 })
    state = { ...sum, at: Math.max(to, state.at ?? to), last: null }
  }

  function begin(now: number): void {
    since ??= now
    if (state.at !== null && state.at > now + AHEAD_MS) state = { ...state, at: now, last: null }
  }

  function days({ from, to }: { from: string; to: string }, now: number): CountedDay[] {
    if (since === null) return []
    const first = later(from, calendar.dayOf(since).date)
    const last = earlier(to, calendar.dayOf(Math.max(now, state.at ?? now)).date)
    if (first > last) return []
    const rows = new Map<string, DayTotal>(
      store.days(plant.id, id, { from: first, to: last }).map(({ date, ...total }) => [date, total]),
    )
    for (const [date, total] of inHand) rows.set(date, total)
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
    if (state === savedState && tally.memory === savedMemory && unsaved.size === 0) return undefined
    const { memory } = tally
    const counter: StoredCounter = { id, since, source, state }
    return {
      counter: memory === undefined ? counter : { ...counter, memory },
      days: [...unsaved].map((date) => ({ date, ...inHand.get(date)! })),
    }
  }

  function saved(): void {
    savedState = state
    savedMemory = tally.memory
    unsaved.clear()
    const newest = [...inHand.keys()].sort().at(-1)
    for (const date of inHand.keys()) if (date !== newest) inHand.delete(date)
  }

  const tally: Tally = {
    id,
    source,
    memory: stored?.memory,
    begin,
    take,
    spread,
    lose,
    days,
    openSeconds,
    change,
    saved,
    state: () => state,
    since: () => since,
    count(at) {
      addToDay(calendar.dayOf(at).date, { value: 1, gapSeconds: 0, uncertainSeconds: 0, u95: null })
      state = { ...state, value: state.value + 1, u95: null }
    },
    peak(at, value) {
      const { date } = calendar.dayOf(at)
      const total = totalOf(date)
      if (value > (total.peak ?? Number.NEGATIVE_INFINITY)) put(date, { ...total, peak: value })
    },
  }
  return tally
}

function overlap({ start, end }: LocalDay, from: number, to: number): number {
  return Math.max(0, Math.min(end, to) - Math.max(start, from))
}

function later(a: string, b: string): string {
  return a > b ? a : b
}

function earlier(a: string, b: string): string {
  return a < b ? a : b
}
