import { groupBy } from '../../../wire/groupBy.ts'
import type { TogetherAmount, TraceAmount, TraceResult } from '../../../wire/trace.ts'
import type { Series, SeriesSet } from '../readings.ts'
import { partBetween } from './localFit.ts'
import {
  amount,
  lacking,
  meansOf,
  type Reduced,
  type Reduction,
  type ReductionContext,
  summaryOf,
  type TraceInput,
} from './reduction.ts'
import { measureResponse, type Response } from './response.ts'

/** Settled: within this share of the final value; and, for the step itself, of its height. */
const BAND = 0.02
/** Means before the step and at the end are taken over so long [ms]. */
const BEFORE_MS = 3000
const END_MS = 3000
/** A dump load above or below these shares of its power has nothing left. */
const FULL = 0.97
const IDLE = 0.01
const NOMINAL = [25, 50, 75, 100]

/** What the regulated quantity does after a load step, and what the dump load has left. */
export const loadStep: Reduction = {
  id: 'loadStep',
  one: reduceOne,
  together: (results) => ({
    lacking: results.length === 0 ? 'No step is recorded yet.' : '',
    amounts: byStep(results),
    remarks: widened(results),
  }),
  method: [
    'The step is when a contact of a load changes; without one, the last reading before the regulated quantity leaves its scatter.',
    'Before: mean of 3 s before the step. Final: mean of the last 3 s.',
    'Peak deviation: farthest from the value before, after the step.',
    'Settling time: from the step until the value stays within ±2 % of the final value; of the step: within ±2 % of its height, or within three times the scatter at the end where that is wider.',
    'Overshoot: largest deviation beyond the final value over the height of the step (terms of IEC 60050-351, from memory).',
    'Share of the dump load: its power over its rated power.',
  ],
}

interface Scale {
  unit: string
  factor: number
  name: string
  symbol: string
}

function reduceOne(trace: TraceInput, context: ReductionContext): TraceResult {
  const { series, triggeredAt } = trace
  const { main } = context.method.view
  const scale = scaleOf(context)
  const read = series[main]
  if (!read || read.at.length < 10) return lacking('Too few readings of the regulated quantity.')
  const step = stepOf(series, { main, triggeredAt })
  const end = trace.endedAt ?? read.at.at(-1)!
  const means = meansRound(read, { step, end })
  if (!means) return lacking('There are no readings right before the step or at the end.')
  const { before, final } = means
  const part = partBetween(read, step, end)
  const at = part.at.map((time) => (time - step) / 1000)
  const options = { initial: before.mean, final: final.mean }
  const response = measureResponse(at, part.value, { ...options, band: BAND * Math.abs(final.mean) })
  const height = Math.abs(final.mean - before.mean)
  const isStep = height > 3 * Math.hypot(before.error, final.error)
  const band = Math.max(BAND * height, 3 * (final.deviation ?? 0))
  const ofStep = isStep ? measureResponse(at, part.value, { ...options, band }) : undefined
  const dump = dumpShares(series, { step, end, rated: context.method.constants['dumpPower'] })
  return {
    isReduced: true,
    zeroAt: step,
    amounts: [
      ...stepAmounts(series, { step, end, context }),
      valueAmount({ id: 'before', name: `${scale.name} before` }, scale, before.mean),
      valueAmount({ id: 'final', name: `${scale.name} at the end` }, scale, final.mean),
      valueAmount({ id: 'steadyChange', name: 'Steady change' }, scale, final.mean - before.mean),
      ...steadyError(final.mean, scale, context),
      valueAmount({ id: 'peak', name: 'Peak deviation from the value before' }, scale, response.peak),
      timeAmount('settling', 'Settling into ±2 % of the value', response),
      ...(ofStep ? [settlingOfStep(ofStep, band / height)] : []),
      overshootAmount(ofStep?.overshoot ?? null),
      ...dump.amounts,
    ],
    remarks: [...dump.remarks, ...speedRemark(ofStep?.settling, part.at)],
    curves: [],
  }
}

/** Speed is shown as frequency where the pole pairs are known. */
function scaleOf({ method: { constants, view } }: ReductionContext): Scale {
  const { hertzPerSpeed } = constants
  if (hertzPerSpeed !== undefined)
    return { unit: 'Hz', factor: hertzPerSpeed, name: 'Frequency', symbol: 'f' }
  const channel = view.channels.find((one) => one.quantity === view.main)
  const isVoltage = channel?.unit === 'V'
  return {
    unit: channel?.unit ?? '1',
    factor: 1,
    name: isVoltage ? 'Voltage' : (channel?.name ?? ''),
    symbol: isVoltage ? 'U' : 'f',
  }
}

function valueAmount(text: Pick<TraceAmount, 'id' | 'name'>, { unit, factor, symbol }: Scale, value: number) {
  return amount({ ...text, symbol, unit }, value * factor)
}

function timeAmount(id: string, name: string, { settling }: Pick<Response, 'settling'>): TraceAmount {
  const words = settling === null ? 'not settled within the trace' : settling === 0 ? 'never left it' : ''
  return amount({ id, name, symbol: 't_s', unit: 's' }, settling, { words })
}

/** Where the value scatters more than ±2 % of the step, the band is as wide as the scatter, and that is said. */
function settlingOfStep(response: Response, share: number): TraceAmount {
  const told = timeAmount('settlingOfStep', 'Settling into ±2 % of the step', response)
  if (share <= 1.001 * BAND) return told
  const words = [told.words, `into ±${(100 * share).toFixed(0)} %: it scatters that much`]
  return { ...told, words: words.filter((one) => one !== '').join('; ') }
}

function overshootAmount(value: number | null): TraceAmount {
  const text = { id: 'overshoot', name: 'Overshoot of the step', symbol: 'x_m', unit: '1', viewUnit: '%' }
  return amount(text, value, { words: value === null ? 'no lasting step to refer it to' : '' })
}

function steadyError(final: number, scale: Scale, { method }: ReductionContext): TraceAmount[] {
  const rated = scale.unit === 'Hz' ? method.constants['ratedFrequency'] : undefined
  if (rated === undefined) return []
  const text = { id: 'steadyError', name: 'Steady error from rated' }
  return [valueAmount(text, scale, final - rated / scale.factor)]
}

interface Span {
  step: number
  end: number
}

/** Right before the step and at the end; undefined without readings there. */
function meansRound(series: Series | undefined, { step, end }: Span) {
  if (!series) return undefined
  const before = partBetween(series, step - BEFORE_MS, step - 1).value
  const final = partBetween(series, end - END_MS, end).value
  if (before.length === 0 || final.length === 0) return undefined
  return { before: summaryOf(before), final: summaryOf(final) }
}

function loadPowerOf(series: SeriesSet): Series | undefined {
  return series['loadPower'] ?? series['inverterOutputPower']
}

/** When the load was switched: by its contact, or by what follows. */
function stepOf(series: SeriesSet, { main, triggeredAt }: { main: string; triggeredAt: number }): number {
  const contacts = Object.entries(series).filter(([quantity]) => quantity.split('.')[0] === 'loadOn')
  const changes = contacts.flatMap(([, { at, value }]) =>
    at.filter(
      (time, i) => i > 0 && value[i] !== value[i - 1] && time > triggeredAt - 4000 && time <= triggeredAt,
    ),
  )
  if (changes.length > 0) return Math.max(...changes)
  const power = loadPowerOf(series)
  const from = power ? lastBefore(power, triggeredAt) : triggeredAt - 2000
  return departure(series[main]!, from, triggeredAt)
}

/** The reading of the load before the one that shows most of the change. */
function lastBefore({ at, value }: Series, triggeredAt: number): number {
  let place = 1
  for (let i = 1; i < at.length; i++) {
    const isNear = at[i]! > triggeredAt - 4000 && at[i]! <= triggeredAt
    if (isNear && Math.abs(value[i]! - value[i - 1]!) > Math.abs(value[place]! - value[place - 1]!)) place = i
  }
  return at[place - 1] ?? triggeredAt - 2000
}

/** Last reading before the quantity leaves the scatter of the seconds before. */
function departure(series: Series, from: number, to: number): number {
  const quiet = partBetween(series, from - BEFORE_MS, from)
  const { mean, deviation } = summaryOf(quiet.value)
  const place = series.at.findIndex(
    (time, i) => time > from && Math.abs(series.value[i]! - mean) > 5 * (deviation ?? 0),
  )
  return place > 0 && series.at[place]! <= to ? series.at[place - 1]! : from
}

function stepAmounts(
  series: SeriesSet,
  { context, ...span }: Span & { context: ReductionContext },
): TraceAmount[] {
  const means = meansRound(loadPowerOf(series), span)
  if (!means) return []
  const change = means.final.mean - means.before.mean
  const rated = context.method.constants['ratedLoad']
  const text = { id: 'step', name: 'Step of the load', symbol: 'ΔP', unit: 'W' }
  const share = { id: 'stepShare', name: 'Step, of rated', symbol: 'ΔP', unit: '1', viewUnit: '%' }
  return [amount(text, change), ...(rated === undefined ? [] : [amount(share, change / rated)])]
}

function dumpShares(
  series: SeriesSet,
  { rated, ...span }: Span & { rated: number | undefined },
): { amounts: TraceAmount[]; remarks: string[] } {
  const means = meansRound(dumpPower(series), span)
  if (!means || rated === undefined) return { amounts: [], remarks: [] }
  const shares = [means.before.mean / rated, means.final.mean / rated] as const
  const text = (id: string, name: string) => ({ id, name, symbol: 'd', unit: '1', viewUnit: '%' })
  return {
    amounts: [
      amount(text('dumpBefore', 'Share of the dump load before'), shares[0]),
      amount(text('dumpAfter', 'Share of the dump load after'), shares[1]),
    ],
    remarks: saturation(shares),
  }
}

function saturation([before, after]: readonly [number, number]): string[] {
  if (before < IDLE && after < IDLE)
    return [
      'The dump load took nothing, before or after: something else holds the value, and this step says nothing about it.',
    ]
  if (after > FULL)
    return ['Afterwards the dump load was full: it could take no more, and the value ran free.']
  if (after < IDLE)
    return ['Afterwards the dump load was at nothing: it could give no more, and the value sagged.']
  return before > FULL || before < IDLE ? ['Before the step the dump load was at an end of its range.'] : []
}

/** Measured, or voltage times current at the readings of the current. */
function dumpPower(series: SeriesSet): Series | undefined {
  if (series['dumpPower']) return series['dumpPower']
  const [current, voltage] = [series['dumpCurrent'], series['dumpVoltage'] ?? series['batteryVoltage']]
  if (!current || !voltage) return undefined
  const value = current.at.map((time, i) => {
    const place = voltage.at.findLastIndex((one) => one <= time)
    return current.value[i]! * voltage.value[Math.max(0, place)]!
  })
  return { at: current.at, value, doubtful: [] }
}

function speedRemark(settling: number | null | undefined, at: readonly number[]): string[] {
  const period = (at.at(-1)! - at[0]!) / 1000 / Math.max(1, at.length - 1)
  if (settling === null || settling === undefined || settling > 3 * period) return []
  return [
    `It settled within about three readings (${period.toFixed(2)} s apart): a faster instrument would tell more.`,
  ]
}

/** Means of the steps of one size: the nearest of ±25, 50, 75 and 100 % of rated. */
function byStep(results: readonly Reduced[]): TogetherAmount[] {
  return [...groupBy(results, groupOf)].flatMap(([name, members]) =>
    meansOf(members).map((one) => ({ ...one, id: `${one.id} ${name}`, group: name })),
  )
}

function widened(results: readonly Reduced[]): string[] {
  const isWide = results.some((one) => one.amounts.some(({ words }) => words.includes('scatters')))
  return isWide
    ? ['Some steps are judged by a band as wide as the scatter of the value: see each trace.']
    : []
}

function groupOf({ amounts }: Reduced): string {
  const share = 100 * (amounts.find((one) => one.id === 'stepShare')?.value ?? Number.NaN)
  if (Number.isNaN(share)) return 'Step'
  const nominal = NOMINAL.reduce((near, one) =>
    Math.abs(one - Math.abs(share)) < Math.abs(near - Math.abs(share)) ? one : near,
  )
  return `${share < 0 ? '−' : '+'}${nominal} %`
}
