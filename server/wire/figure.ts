/**
 * What a person is told about one value. Shared by server and browser; imports nothing.
 */

/** Best first: a derived figure is never better than the worst input its formula uses. */
export type Quality = 'good' | 'uncertain' | 'bad'

/** Milliseconds since 1970-01-01T00:00:00Z. */
export type UtcMs = number

/** A value with the four properties without which nothing is derived from it: number, unit, time, quality. */
export interface FigureValue {
  /** In `unit`; null when the value cannot be given. */
  value: number | null
  /** Half-width of the 95 % coverage interval in `unit`; absent when no input states an accuracy. */
  u95?: number
  /** Time of measurement of the oldest input; null before the first measurement and for constants. */
  at: UtcMs | null
  quality: Quality
  /** Why the quality is not good, e.g. "discharge stale 14 s". Empty when good. */
  reasons: string[]
}

/** The fixed description of a figure; sent once in the snapshot. */
export interface FigureDescription {
  /** Unique within a plant, e.g. "netHead" or "jetOpen.2". */
  id: string
  name: string
  /** Symbol for formulas, e.g. "Hₙ". */
  symbol: string
  /** UCUM code of the unit on the wire: SI, e.g. "m", "W", "Pa", "rad/s", "1". */
  unit: string
  /** UCUM code of the unit people read it in, e.g. "kW", "bar", "/min", "%". */
  viewUnit: string
  group: FigureGroup
  /** measured: straight from an instrument · derived: by formula · estimated: by formula with a substitute. */
  origin: 'measured' | 'derived' | 'estimated' | 'counted'
  /** A state, 0 or 1, not an amount: shown as a word. */
  discrete?: true
  /** Other figures are computed with it, or a designer compares it: folded away below the others. */
  background?: true
  /** Ends of the normal band in `unit`, where the plant file gives ratings or limits. */
  rated?: number
  low?: number
  high?: number
  /** Longest time [ms] without a new value before it counts as stale; null for what is sent only on change. */
  staleAfterMs: number | null
}

export type FigureGroup =
  | 'water'
  | 'head'
  | 'machine'
  | 'electrical'
  | 'storage'
  | 'loads'
  | 'efficiency'
  | 'energy'
  | 'condition'
  | 'balance'
  | 'pump'

/** What is read in K is a difference of temperatures: a temperature is read in °C. */
export function isTemperatureDifference({ unit, viewUnit }: FigureDescription): boolean {
  return unit === 'K' && viewUnit === 'K'
}

/** What cannot be computed at this plant and what it would need. */
export interface MissingFigure {
  id: string
  name: string
  /** A sentence, e.g. "needs torque, or a generator efficiency curve". */
  needs: string
}
