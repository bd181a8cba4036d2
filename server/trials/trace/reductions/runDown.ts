import { divisorOf, limitAt } from '../../../derive/instrumentUncertainty.ts'
import { NORMAL_95 } from '../../../statistics/normal.ts'
import {
  combineUncertainties,
  effectiveDegreesOfFreedom,
  expandTypes,
  systematicOf,
} from '../../../statistics/uncertainty.ts'
import type { TraceAmount, TraceCurve, TraceResult } from '../../../wire/trace.ts'
import { isWithin, membersOf } from '../conditions.ts'
import type { Series } from '../readings.ts'
import { type LocalFit, localFit, partBetween, smoothCurve, spread } from './localFit.ts'
import {
  amount,
  curveOverTime,
  INERTIA,
  lacking,
  limitsOf,
  meansOf,
  type Reduced,
  type Reduction,
  type ReductionContext,
  type TraceInput,
  type TypedPoint,
  withInterval,
} from './reduction.ts'

/** Valves need a moment after their contact has spoken [ms]. */
const SETTLE_MS = 300
/** The slope is fitted over readings whose speed is within this share of the wanted one. */
const WINDOW = 0.15
const MOST_DRAWN = 400

const SLOPE = { id: 'slope', name: 'Slowing down at the known loss', symbol: 'dω/dt', unit: 'rad/s2' }
const SPEED = { unit: 'rad/s', viewUnit: '/min' }

/** A known loss may lie above the first reading by this share: while the water is shut off a small rotor slows down. */
const CARRIED = 0.03
/** Readings from which it is carried on [s]. */
const FIRST_SECONDS = 1

/**
 * Inertia from a run-down: J = P_loss(ω)/(ω·|dω/dt|) wherever a loss is known, from a local fit of ω(t). The shape of
 * the loss curve is not needed: one known loss within the trace is enough.
 *
 * Source: J·dω/dt = −T_loss(ω), Newton; JCGM 100:2008 for the uncertainty.
 */
export const runDown: Reduction = {
  id: 'runDown',
  one: reduceOne,
  together,
  method: [
    'The run-down is what follows the moment at which the last condition (water off, load off) came to hold, and 0.3 s.',
    'dω/dt: slope of a polynomial of degree 3 through all readings within 15 % of the wanted speed; it is carried on to a speed up to 3 % above the first reading.',
    'J = P_loss/(ω·|dω/dt|) at every speed at which the loss is known: from typed points, or else from the efficiency curve of the generator at its smallest load.',
    'Uncertainty: scatter of the slope and between traces (type A); the known loss and the tachometer (type B, which repeats do not reduce).',
  ],
}

function reduceOne(trace: TraceInput, context: ReductionContext): TraceResult {
  const losses = lossesOf(context)
  const speed = trace.series['speed']
  if (!speed || speed.at.length === 0) return lacking('There are no readings of speed.')
  const from = freeFrom(trace, context) + SETTLE_MS
  const free = partBetween(speed, from, trace.endedAt ?? Number.POSITIVE_INFINITY)
  if (free.at.length < 20) return lacking('Too few readings of the free run-down: 20 are needed.')
  if (losses.length === 0) return lacking(NO_LOSS)
  const found = losses.flatMap((loss) => inertiaAt(free, loss))
  if (found.length === 0)
    return lacking(
      `The loss is known at ${inWords(losses)}, but the free run-down began at ${minutes(free.value[0]!)}: start faster, or type a loss at a lower speed.`,
    )
  const { value, standard } = weightedMean(found)
  const first = found[0]!
  return {
    isReduced: true,
    zeroAt: from,
    amounts: [
      amount(INERTIA, value, { u95: NORMAL_95 * standard }),
      amount(SLOPE, first.fit.slope, { u95: NORMAL_95 * first.fit.slopeStandard }),
      timeAmount(free, context),
    ],
    remarks: [
      ...(trace.series['speed']!.doubtful.length > 0
        ? ['Some readings of speed were of doubtful quality.']
        : []),
      ...found.map(
        ({ loss, value: one }) =>
          `From ${loss.y.toPrecision(3)} W at ${minutes(loss.x)}: J = ${one.toPrecision(3)} kg·m².`,
      ),
    ],
    curves: curvesOf(free, from, value),
  }
}

const NO_LOSS =
  'J needs one known loss without load: type a point (speed and power), or give the plant file the generator’s efficiencyCurve, windingResistance and voltageConstant.'

/** Typed losses take the place of the plant file's. */
function lossesOf({ method: { constants }, typed }: ReductionContext): TypedPoint[] {
  if (typed.length > 0) return [...typed]
  const { lossSpeed, lossPower, lossStandard } = constants
  if (lossSpeed === undefined || lossPower === undefined) return []
  return [{ x: lossSpeed, y: lossPower, standard: lossStandard ?? 0 }]
}

/** When the last condition came to hold, by the readings of the instruments themselves. */
function freeFrom({ series, triggeredAt }: TraceInput, { method: { begin } }: ReductionContext): number {
  const conditions = begin.kind === 'conditions' ? begin.all : []
  const ends = conditions.flatMap((condition) =>
    membersOf(condition.figure, Object.keys(series)).flatMap((id) => {
      const { at, value } = series[id]!
      const last = value.findLastIndex((one, i) => at[i]! <= triggeredAt && !isWithin(condition, one))
      // It held from the first reading on, or from the one after the last that stood against it.
      return last < 0 ? [] : [at[last + 1] ?? triggeredAt]
    }),
  )
  return Math.max(...ends, series['speed']!.at[0]!)
}

interface Found {
  loss: TypedPoint
  fit: LocalFit
  value: number
  /** Standard uncertainty of J from this point alone [kg·m²], and the part of the slope. */
  standard: number
}

/** J at one known loss; none where the trace neither passes its speed nor begins closely below it. */
function inertiaAt(free: Series, loss: TypedPoint): Found[] {
  const inside = free.at.filter((_, i) => Math.abs(free.value[i]! / loss.x - 1) <= WINDOW)
  const at = timeAt(free, loss.x)
  if (at === undefined || inside.length === 0) return []
  const halfWidth = Math.max(...inside.map((time) => Math.abs(time - at))) / 1000
  const fit = localFit(free, at, halfWidth)
  if (!fit || !(fit.slope < 0)) return []
  const value = loss.y / (loss.x * -fit.slope)
  const standard = value * Math.hypot(loss.standard / loss.y, fit.slopeStandard / fit.slope)
  return [{ loss, fit, value, standard }]
}

/** When the speed was this [ms UTC], carried on from the first readings where it was just before them. */
function timeAt(free: Series, wanted: number): number | undefined {
  const place = free.value.findIndex((speed) => speed <= wanted)
  if (place > 0) return crossing(free, place, wanted)
  if (place < 0 || free.value[0]! < (1 - CARRIED) * wanted) return undefined
  const first = localFit(free, free.at[0]!, FIRST_SECONDS)
  return first && first.slope < 0 ? free.at[0]! + ((wanted - first.value) / first.slope) * 1000 : undefined
}

function crossing({ at, value }: Series, place: number, wanted: number): number {
  const share = (value[place - 1]! - wanted) / (value[place - 1]! - value[place]!)
  return at[place - 1]! + share * (at[place]! - at[place - 1]!)
}

function weightedMean(found: readonly Found[]): { value: number; standard: number } {
  const weights = found.map(({ standard }) => 1 / Math.max(standard, 1e-12) ** 2)
  const sum = weights.reduce((total, one) => total + one, 0)
  const value = found.reduce((total, one, i) => total + weights[i]! * one.value, 0) / sum
  return { value, standard: 1 / Math.sqrt(sum) }
}

function timeAmount({ at, value }: Series, { method }: ReductionContext): TraceAmount {
  const text = { id: 'halfTime', name: 'Time from rated to half speed', symbol: 't_½', unit: 's' }
  const rated = method.constants['ratedSpeed'] ?? Number.NaN
  const [full, half] = [rated, rated / 2].map((speed) => value.findIndex((one) => one <= speed))
  if (full === undefined || half === undefined || full <= 0 || half <= 0)
    return amount(text, null, { words: 'the trace does not pass both' })
  const series = { at, value, doubtful: [] }
  return amount(text, (crossing(series, half, rated / 2) - crossing(series, full, rated)) / 1000)
}

/** The fitted speed, what is left, and the power that the losses take as the fit says. */
function curvesOf(free: Series, zeroAt: number, inertia: number): TraceCurve[] {
  const halfWidth = Math.max(0.6, (free.at.at(-1)! - free.at[0]!) / 1000 / 12)
  const places = spread(free.at.length, MOST_DRAWN)
  const smooth = smoothCurve(free, places, halfWidth)
  const x = places.map((i) => (free.at[i]! - zeroAt) / 1000)
  const steps = spread(places.length, 40).slice(1, -1)
  const slopes = steps.flatMap((i) => {
    const fit = localFit(free, free.at[places[i]!]!, 2 * halfWidth)
    return fit ? [{ speed: fit.value, power: -inertia * fit.slope * fit.value }] : []
  })
  return [
    curveOverTime({ id: 'fitted', kind: 'fitted', name: 'Fitted', yName: 'Speed', ...SPEED, x, y: smooth }),
    curveOverTime({
      id: 'residual',
      kind: 'residual',
      name: 'Measured less fitted',
      yName: 'Speed',
      ...SPEED,
      x,
      y: places.map((place, i) => free.value[place]! - smooth[i]!),
    }),
    {
      id: 'loss',
      kind: 'other',
      name: 'Power of the losses',
      yName: 'Power',
      unit: 'W',
      viewUnit: 'W',
      xName: 'Speed',
      xUnit: SPEED.unit,
      xViewUnit: SPEED.viewUnit,
      x: slopes.map((one) => one.speed).reverse(),
      y: slopes.map((one) => one.power).reverse(),
    },
  ]
}

function together(results: readonly Reduced[], context: ReductionContext) {
  const losses = lossesOf(context)
  const inertia = meansOf(results).find(({ id }) => id === 'inertia')
  if (!inertia)
    return { lacking: losses.length === 0 ? NO_LOSS : 'No trace gives J yet.', amounts: [], remarks: [] }
  const { value: mean, deviation, count } = inertia
  // Losses of several speeds are known apart from each other; what one trace says has its scatter in it already.
  const shareOfLoss =
    1 / Math.sqrt(losses.reduce((sum, one) => sum + (one.y / Math.max(one.standard, 1e-9)) ** 2, 0))
  const limits = limitsOf(context, 'speed')
  const tachometer = (2 * limitAt(limits, losses[0]!.x)) / (divisorOf(limits) * losses[0]!.x)
  const slopes = results
    .flatMap(({ amounts }) => amounts.filter(({ id }) => id === 'slope'))
    .map(({ value, u95 }) => (u95 ?? 0) / NORMAL_95 / Math.abs(value!))
  const ofSlope = (mean * Math.hypot(...slopes)) / slopes.length
  const scatter = [
    { uncertainty: ofSlope, degreesOfFreedom: 30 },
    { uncertainty: (deviation ?? 0) / Math.sqrt(count), degreesOfFreedom: count - 1 },
  ].filter((part) => part.uncertainty > 0)
  const standard = combineUncertainties(scatter.map((part) => part.uncertainty))
  const expanded = expandTypes(
    { standard, freedom: effectiveDegreesOfFreedom(scatter) },
    systematicOf([
      { standard: mean * shareOfLoss, rectangular: 0 },
      { standard: mean * tachometer, rectangular: limits.isRectangular ? mean * tachometer : 0 },
    ]),
  )
  const expected = context.method.constants['inertia']
  const compared = { expected, from: 'plant file', words: comparing(mean) }
  return { lacking: '', amounts: [withInterval(inertia, expanded, compared)], remarks: [] }
}

function comparing(found: number): (expected: number, isInside: boolean) => string {
  return (expected, isInside) => {
    if (isInside) return 'The plant file’s value lies within the interval.'
    const ratio = found / expected
    const apart = Math.abs(100 * (ratio - 1)).toFixed(1)
    return Math.abs(ratio - 1) < 0.5
      ? `It is ${apart} % ${ratio > 1 ? 'more' : 'less'} than the plant file’s value: check the loss that is taken for known, and the plant file.`
      : `It is ${ratio.toFixed(2)} times the plant file’s value: is a flywheel fitted, or is the loss that is taken for known wrong?`
  }
}

function minutes(speed: number): string {
  return `${Math.round((speed * 60) / (2 * Math.PI))} min⁻¹`
}

function inWords(losses: readonly TypedPoint[]): string {
  return losses.map((one) => minutes(one.x)).join(', ')
}
