import { divisorOf, type ErrorLimits, limitAt } from '../../../derive/instrumentUncertainty.ts'
import { NORMAL_95 } from '../../../statistics/normal.ts'
import { fitPolynomial } from '../../../statistics/regression.ts'
import { expandTypes } from '../../../statistics/uncertainty.ts'
import type { TogetherAmount, TraceResult } from '../../../wire/trace.ts'
import type { Series, SeriesSet } from '../readings.ts'
import { partBetween } from './localFit.ts'
import {
  amount,
  errorsOf,
  INERTIA,
  lacking,
  limitsOf,
  meansOf,
  type Reduced,
  type Reduction,
  type ReductionContext,
  summaryOf,
  type TraceInput,
  withInterval,
} from './reduction.ts'

/**
 * The rise is fitted from 0.3 to 8 % above the speed before, or up to four fifths of a smaller rise, and over at least
 * so many readings.
 */
const RISE_FROM = 0.003
const RISE_TO = 0.08
const RISE_SHARE = 0.8
const FEWEST = 5
const BEFORE_MS = 2500
const TOO_FEW =
  'Too few readings of the speed before or after: a faster tachometer or a smaller power is needed.'

/**
 * Peak speed and initial slope after a load is lost. Before, the runner's torque was that of load and losses; right
 * after, the losses are still there, so what accelerates is the lost load alone:  J·ω₀·dω/dt = P + m·I²·R.
 * With it T_m = J·ω_r²/P_r, and the same from the J of the plant file.
 *
 * Source: Newton; mechanical time constant by its definition.
 */
export const loadRejection: Reduction = {
  id: 'loadRejection',
  one: reduceOne,
  together,
  method: [
    'Before: mean of speed, power and current over 2.5 s, ending 2 s before the trigger.',
    'Slope: polynomial of degree 2 through the readings from 0.3 to 8 % above the speed before (of a smaller rise up to four fifths), reached by two in a row and at least 5, taken where it passes the speed before.',
    'Lost power: at the terminals and in the winding, P + m·I²·R. The other losses go on.',
    'Uncertainty: scatter of the slope (type A) and the limits of error of the power meter (type B).',
    'T_m = ω_r²/P_r · (lost power)/(ω₀·dω/dt): the time in which rated power would bring the rotor from rest to rated speed.',
  ],
}

const AMOUNTS = {
  lost: { id: 'lost', name: 'Power lost', symbol: 'P', unit: 'W' },
  before: { id: 'before', name: 'Speed before', symbol: 'n_0', unit: 'rad/s', viewUnit: '/min' },
  peak: { id: 'peak', name: 'Highest speed', symbol: 'n_peak', unit: 'rad/s', viewUnit: '/min' },
  peakShare: { id: 'peakShare', name: 'Highest speed, of rated', symbol: 'n/n_r', unit: '1', viewUnit: '%' },
  slope: { id: 'slope', name: 'Initial slope', symbol: 'dn/dt', unit: 'rad/s2', viewUnit: '/min/s' },
  timeConstant: { id: 'timeConstant', name: 'Mechanical time constant', symbol: 'T_m', unit: 's' },
  inertia: INERTIA,
}

function reduceOne(trace: TraceInput, context: ReductionContext): TraceResult {
  const { constants } = context.method
  const { speed, activePower } = trace.series
  if (!speed || !activePower) return lacking('Speed or power was not recorded.')
  const { triggeredAt } = trace
  const [from, to] = [triggeredAt - BEFORE_MS - 2000, triggeredAt - 2000]
  const before = summaryOf(partBetween(speed, from, to).value).mean
  const power =
    summaryOf(partBetween(activePower, from, to).value).mean + copper(trace.series, { from, to, constants })
  const after = partBetween(speed, to, trace.endedAt ?? Number.POSITIVE_INFINITY)
  const heard = after.at.filter((time) => time >= triggeredAt).length
  if (Number.isNaN(before) || heard < FEWEST) return lacking(TOO_FEW)
  const part = risePart(after.value, before)
  if (!part) return lacking('The speed did not rise when the power fell: the load was not lost.')
  const rise = fitRise(after, part, before)
  if (!rise) return lacking(TOO_FEW)
  const { ratedSpeed = Number.NaN, ratedPower = Number.NaN } = constants
  const inertia = power / (before * rise.slope)
  const share = Math.hypot(rise.standard / rise.slope, powerError(power, limitsOf(context, 'activePower')))
  const peak = Math.max(...after.value)
  const timeConstant = (inertia * ratedSpeed ** 2) / ratedPower
  return {
    isReduced: true,
    zeroAt: rise.at,
    amounts: [
      amount(AMOUNTS.lost, power),
      amount(AMOUNTS.before, before),
      amount(AMOUNTS.peak, peak),
      amount(AMOUNTS.peakShare, peak / ratedSpeed),
      amount(AMOUNTS.slope, rise.slope, { u95: NORMAL_95 * rise.standard }),
      amount(AMOUNTS.timeConstant, timeConstant, { u95: NORMAL_95 * share * timeConstant }),
      amount(AMOUNTS.inertia, inertia, { u95: NORMAL_95 * share * inertia }),
    ],
    remarks: [...trippedIn(trace.series), ...risingStill(after)],
    curves: [],
  }
}

/** Relative standard uncertainty of the power from its meter's limits of error. */
function powerError(power: number, limits: ErrorLimits): number {
  return limitAt(limits, power) / (divisorOf(limits) * power)
}

interface Before {
  from: number
  to: number
  constants: Readonly<Record<string, number>>
}

/** Power in the winding before; it is lost with the load [W]. */
function copper(series: SeriesSet, { from, to, constants }: Before): number {
  const { windingResistance, phases } = constants
  const current = series['phaseCurrent.1']
  if (!current || windingResistance === undefined || phases === undefined) return 0
  return phases * summaryOf(partBetween(current, from, to).value).mean ** 2 * windingResistance
}

/**
 * The readings of the rise, end exclusive: back from where it reaches its upper limit to the last reading that is not
 * above its lower one. A level counts as reached by two readings in a row, so that one spike begins no rise.
 */
function risePart(value: readonly number[], before: number): { first: number; end: number } | undefined {
  const reached = value.slice(1).map((one, i) => Math.min(one, value[i]!))
  const highest = Math.max(...reached)
  if (!(highest > before * (1 + RISE_FROM))) return undefined
  const top = Math.min(before * (1 + RISE_TO), before + RISE_SHARE * (highest - before))
  const end = reached.findIndex((one) => one >= top)
  const first = value.findLastIndex((one, i) => i < end && one <= before * (1 + RISE_FROM)) + 1
  return { first, end: Math.min(value.length, Math.max(end, first + FEWEST)) }
}

/** Slope where the rise passes the speed before, with its standard uncertainty, and when that was. */
function fitRise(
  { at, value }: Series,
  { first, end }: { first: number; end: number },
  before: number,
): { slope: number; standard: number; at: number } | undefined {
  if (end - first < FEWEST) return undefined
  const x = at.slice(first, end).map((time) => (time - at[first]!) / 1000)
  const fit = fitPolynomial(x, value.slice(first, end), 2)
  const [a, b, c] = fit.coefficients as [number, number, number]
  const root = passing({ a: a - before, b, c })
  const slope = b + 2 * c * root
  const [vb, vbc, vc] = [fit.covariance[1]![1]!, fit.covariance[1]![2]!, fit.covariance[2]![2]!]
  const standard = Math.sqrt(Math.max(0, vb + 4 * root * vbc + 4 * root ** 2 * vc))
  return slope > 0 ? { slope, standard, at: at[first]! + root * 1000 } : undefined
}

/** Root of a + b·x + c·x² nearest before 0, by Newton's steps from 0. */
function passing({ a, b, c }: { a: number; b: number; c: number }): number {
  let x = 0
  for (let i = 0; i < 20; i++) x -= (a + b * x + c * x * x) / (b + 2 * c * x)
  return x
}

function trippedIn(series: SeriesSet): string[] {
  const isTripped = Object.entries(series).some(
    ([quantity, { value }]) => quantity.split('.')[0] === 'tripped' && value.some((one) => one > 0.5),
  )
  return isTripped
    ? ['The over-speed protection tripped: the highest speed is that of the trip, not of the runaway.']
    : []
}

/** Still rising: the last fifth of the readings is above all before it. */
function risingStill({ value }: Series): string[] {
  const last = Math.floor(0.8 * value.length)
  return Math.min(...value.slice(last)) > Math.max(...value.slice(0, last))
    ? ['The speed was still rising when the trace ended: the highest speed is not the runaway speed.']
    : []
}

function together(results: readonly Reduced[], { method: { constants } }: ReductionContext) {
  const { inertia, ratedSpeed, ratedPower } = constants
  const predicted: Record<string, number | undefined> = {
    inertia,
    timeConstant: inertia && ratedSpeed && ratedPower && (inertia * ratedSpeed ** 2) / ratedPower,
  }
  const amounts = meansOf(results).map((one) => {
    const expected = predicted[one.id]
    return withInterval(one, expected === undefined ? null : halfWidth(one, results), {
      expected,
      from: 'inertia of the plant file',
      words: (wanted, isInside) => {
        const apart = 100 * (one.value / wanted - 1)
        return `${Math.abs(apart).toFixed(1)} % ${apart > 0 ? 'above' : 'below'} what the plant file’s inertia predicts, ${isInside ? 'within' : 'outside'} the interval.`
      },
    })
  })
  return { lacking: results.length === 0 ? 'No rejection is recorded yet.' : '', amounts, remarks: [] }
}

/** Scatter between the traces, and the power meter, which is off by the same in each. */
function halfWidth({ id, deviation, count }: TogetherAmount, results: readonly Reduced[]): number {
  const scatter = (deviation ?? 0) / Math.sqrt(count)
  const standard = Math.max(0, ...errorsOf(results, id)) / NORMAL_95
  return expandTypes({ standard: scatter, freedom: count - 1 }, { standard, widest: [0, 0] })
}
