import type { Quality } from '../wire/figure.ts'

/** Where alarms look up figures. */
export interface FigureLookup {
  /** SI; NaN when it cannot be given or its input is bad. */
  value(figure: string): number
  quality(figure: string): Quality
  /** Time of measurement [ms UTC]; NaN before the first. */
  at(figure: string): number
  /** Longest time [ms] without a new value before it counts as stale; infinite for what is sent on change. */
  staleAfterMs(figure: string): number
  /** False for a figure that comes straight from an instrument. */
  isDerived(figure: string): boolean
}

/** What a counter has come to since the plant's day began. */
export interface CounterTotal {
  /** SI. */
  value: number
  /** SI per second at this moment; NaN when unknown. */
  rate: number
  /** When it begins again at zero [ms UTC]. */
  resetsAt: number
  /** False when a part of the day was not counted: the true total is larger. */
  complete: boolean
}

/** Where alarms look up counters; undefined where the plant has no such counter. */
export interface CounterLookup {
  total(counter: string): CounterTotal | undefined
}

/** A judgement of this moment. */
export interface Verdict {
  /** Undefined: nobody can say, because the input is missing or bad. */
  holds: boolean | undefined
  /** SI value to show; NaN for none. */
  value: number
  at: number
  quality: Quality
}
