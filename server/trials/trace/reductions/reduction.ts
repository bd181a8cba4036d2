import type { ErrorLimits } from '../../../derive/instrumentUncertainty.ts'
import type {
  AmountText,
  TogetherAmount,
  TraceAmount,
  TraceCurve,
  TraceResult,
  TraceTogether,
} from '../../../wire/trace.ts'
import type { TraceMethod } from '../../runMethod.ts'
import type { SeriesSet } from '../readings.ts'

/** One trace, ready to be reduced. */
export interface TraceInput {
  triggeredAt: number
  endedAt: number | null
  series: SeriesSet
}

/** A value that somebody typed: main quantity x and what is known there, with standard uncertainties. */
export interface TypedPoint {
  x: number
  y: number
  standard: number
}

export interface ReductionContext {
  method: TraceMethod
  typed: readonly TypedPoint[]
}

/** How traces of one trial become numbers. Pure: the same readings give the same numbers for ever. */
export interface Reduction {
  id: string
  one(trace: TraceInput, context: ReductionContext): TraceResult
  /** @param results Of the kept traces that could be reduced, in order. */
  together(results: readonly Reduced[], context: ReductionContext): TraceTogether
  /** Steps in words, for the method sheet. */
  method: readonly string[]
}

export type Reduced = Extract<TraceResult, { isReduced: true }>

export const lacking = (sentence: string): TraceResult => ({ isReduced: false, lacking: sentence })

const NOT_STATED: ErrorLimits = { share: 0, zero: 0, fixed: 0, isRectangular: true, resolution: 0 }

/** What the instrument of a quantity may be off by; nothing where the plant file states nothing. */
export function limitsOf({ method }: ReductionContext, quantity: string): ErrorLimits {
  return method.instruments.find((one) => one.quantity === quantity)?.limits ?? NOT_STATED
}

/** Read in the unit that it is computed in, unless it says another. */
type NamedAmount = Omit<AmountText, 'viewUnit'> & { id: string; viewUnit?: string }

export function amount(
  text: NamedAmount,
  value: number | null,
  { u95 = null, words = '' }: { u95?: number | null; words?: string } = {},
): TraceAmount {
  return { viewUnit: text.unit, ...text, value, u95, words }
}

export const INERTIA = { id: 'inertia', name: 'Inertia', symbol: 'J', unit: 'kg.m2' }

/** A curve over seconds. */
export function curveOverTime(
  one: Pick<TraceCurve, 'id' | 'kind' | 'name' | 'yName' | 'unit' | 'viewUnit' | 'x' | 'y'>,
): TraceCurve {
  return { ...one, xName: 'Time', xUnit: 's', xViewUnit: 's' }
}

/** Mean and scatter of every amount over the traces; an interval only where a reduction has one to state. */
export function meansOf(results: readonly Reduced[]): TogetherAmount[] {
  const ids = [...new Set(results.flatMap((one) => one.amounts.map(({ id }) => id)))]
  return ids.flatMap((id) => {
    const amounts = results.flatMap((one) => one.amounts.filter((each) => each.id === id))
    const values = amounts.flatMap(({ value }) => value ?? [])
    if (values.length === 0) return []
    const { value: _, u95, words, ...text } = amounts[0]!
    const { mean, deviation } = summaryOf(values)
    return {
      ...text,
      count: values.length,
      value: mean,
      deviation,
      low: null,
      high: null,
      expected: null,
      expectedFrom: '',
      compared: '',
    }
  })
}

interface Summary {
  mean: number
  /** Of one value; null where one value alone says nothing of it. */
  deviation: number | null
  /** Of the mean, from the scatter of the values; 0 where that is not known. */
  error: number
}

export function summaryOf(values: readonly number[]): Summary {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  if (values.length < 2) return { mean, deviation: null, error: 0 }
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
  const deviation = Math.sqrt(squares / (values.length - 1))
  return { mean, deviation, error: deviation / Math.sqrt(values.length) }
}

/** An amount with its interval, and what it was expected to be; `words` say how the two compare. */
export function withInterval(
  one: TogetherAmount,
  half: number | null,
  wanted?: {
    expected: number | undefined
    from: string
    words: (expected: number, isInside: boolean) => string
  },
): TogetherAmount {
  const ends = half === null ? {} : { low: one.value - half, high: one.value + half }
  const expected = wanted?.expected
  if (!wanted || expected === undefined) return { ...one, ...ends }
  const isInside = half !== null && Math.abs(one.value - expected) <= half
  return { ...one, ...ends, expected, expectedFrom: wanted.from, compared: wanted.words(expected, isInside) }
}

/** What is stated of an amount in each trace that gives it. */
export function errorsOf(results: readonly Reduced[], id: string): number[] {
  return results.flatMap(({ amounts }) => amounts.flatMap((one) => (one.id === id ? (one.u95 ?? []) : [])))
}
