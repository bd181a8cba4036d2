/**
 * One step of a counter: the integral of a figure over time by the trapezoid rule between good samples.
 *
 * Gap rules [default]: up to 5 s between two samples is read as a straight line; 5 to 60 s as the last value held,
 * counted as uncertain; longer is not integrated and adds to the gap. An instrument that speaks more slowly gets
 * its own rhythm (`rhythmOf`). Time never runs backwards.
 * Its ± is that of the instruments: their error stays from sample to sample, so the half-widths add up as the amounts do,
 * while scatter averages out and is left out. Nothing is added while nothing is counted, and a gap has none: it is told
 * apart. Source: JCGM 100:2008, 5.2.2, inputs that are wholly correlated.
 *
 * Source: trapezoid rule; the gap limits are common practice, no source.
 */
export interface CounterState {
  /** SI: J, m³, s or a count. */
  value: number
  /** Time of the last sample that was taken in [ms UTC]; null before the first. */
  at: number | null
  /** Value of the figure at `at`; null inside a gap. */
  last: number | null
  gapSeconds: number
  uncertainSeconds: number
  /** Half-width of the 95 % interval [SI]; null where for a part of it none was known. */
  u95: number | null
}

export const EMPTY_STATE: CounterState = {
  value: 0,
  at: null,
  last: null,
  gapSeconds: 0,
  uncertainSeconds: 0,
  u95: 0,
}

/** How far apart [ms] two samples may be. */
export interface Rhythm {
  /** Read as a straight line up to here, … */
  straightMs: number
  /** … held up to here, and a gap beyond. */
  heldMs: number
}

export const STRAIGHT_MS = 5000
export const HELD_MS = 60_000
export const USUAL_RHYTHM: Rhythm = { straightMs: STRAIGHT_MS, heldMs: HELD_MS }

/**
 * The rhythm of a figure: half its stale limit, which is 1.5 periods of an instrument by default, is no gap.
 *
 * @param staleAfterMs Longest silence [ms] of the figure before it counts as stale; Infinity for what is sent on change.
 */
export function rhythmOf(staleAfterMs: number): Rhythm {
  if (!Number.isFinite(staleAfterMs)) return USUAL_RHYTHM
  return { straightMs: Math.max(STRAIGHT_MS, staleAfterMs / 2), heldMs: Math.max(HELD_MS, staleAfterMs) }
}

export interface Sample {
  /** Time of the sample [ms UTC]. */
  at: number
  /** Figure at that time in SI per second; NaN when it cannot be given. */
  rate: number
  /** The figure is not good: what is counted up to here is uncertain. */
  isUncertain?: boolean
  /** Half-width of the rate that stays from sample to sample; absent or null where none is known. */
  u95?: number | null
}

/** The time between two samples and how it is read. */
export interface Stretch {
  kind: 'straight' | 'held' | 'gap'
  from: number
  to: number
  rateFrom: number
  rateTo: number
  isUncertain: boolean
  u95: number | null
}

export interface Amount {
  value: number
  gapSeconds: number
  uncertainSeconds: number
  u95: number | null
}

/** From the last sample to this one; undefined for the first sample and for one that is not newer or cannot be given. */
export function stretchTo(state: CounterState, sample: Sample, rhythm = USUAL_RHYTHM): Stretch | undefined {
  const { at, rate, isUncertain = false, u95 = null } = sample
  if (Number.isNaN(rate) || state.at === null || at <= state.at) return undefined
  const step = at - state.at
  const common = { from: state.at, to: at, rateTo: rate, isUncertain, u95 }
  if (state.last === null || step > rhythm.heldMs) return { ...common, kind: 'gap', rateFrom: 0 }
  return { ...common, kind: step > rhythm.straightMs ? 'held' : 'straight', rateFrom: state.last }
}

/**
 * What a stretch gives between two moments of it; the parts of a stretch add up to the whole.
 *
 * @param from Begin of the part [ms UTC]; default the begin of the stretch.
 * @param to End of the part [ms UTC].
 */
export function amountOf(stretch: Stretch, from = stretch.from, to = stretch.to): Amount {
  const seconds = (to - from) / 1000
  if (stretch.kind === 'gap') return { value: 0, gapSeconds: seconds, uncertainSeconds: 0, u95: 0 }
  const u95 = stretch.u95 === null ? null : stretch.u95 * seconds
  if (stretch.kind === 'held')
    return { value: stretch.rateFrom * seconds, gapSeconds: 0, uncertainSeconds: seconds, u95 }
  const mean = (rateAt(stretch, from) + rateAt(stretch, to)) / 2
  return { value: mean * seconds, gapSeconds: 0, uncertainSeconds: stretch.isUncertain ? seconds : 0, u95 }
}

function rateAt({ from, to, rateFrom, rateTo }: Stretch, at: number): number {
  if (at === from) return rateFrom
  return at === to ? rateTo : rateFrom + ((rateTo - rateFrom) * (at - from)) / (to - from)
}

/**
 * @param state Before the sample.
 * @param sample Time, rate and whether it is uncertain.
 * @returns After the sample; the same object when the sample is not newer or cannot be given.
 */
export function integrate(state: CounterState, sample: Sample, rhythm = USUAL_RHYTHM): CounterState {
  const { at, rate } = sample
  if (state.at === null) return Number.isNaN(rate) ? state : { ...state, at, last: rate }
  const stretch = stretchTo(state, sample, rhythm)
  return stretch ? { ...plus(state, amountOf(stretch)), at, last: rate } : state
}

/** A total with an amount added. */
export function plus<T extends Amount>(total: T, amount: Amount): T {
  return {
    ...total,
    value: total.value + amount.value,
    gapSeconds: total.gapSeconds + amount.gapSeconds,
    uncertainSeconds: total.uncertainSeconds + amount.uncertainSeconds,
    u95: total.u95 === null || amount.u95 === null ? null : total.u95 + amount.u95,
  }
}
