import { csvTable, utc } from '../../csv.ts'
import type { TraceAmount, TraceView } from '../../wire/trace.ts'
import { seriesOf } from '../trace/readings.ts'
import type { PackedTraces } from './packedRun.ts'

/** One line a reading, SI units, at the reading's own time: nothing is brought to a common rate. */
export function traceRawCsv({ method, traces, raw }: PackedTraces): string {
  const readings = traces.flatMap((trace) => {
    const series = seriesOf(raw[trace.number] ?? [])
    return method.view.channels.flatMap((channel) => {
      const { at = [], value = [], doubtful } = series[channel.quantity] ?? {}
      const isDoubtful = new Set(doubtful)
      return at.map((time, i) => ({
        trace,
        channel,
        at: time,
        value: value[i],
        quality: isDoubtful.has(i) ? 'doubtful' : 'good',
      }))
    })
  })
  return csvTable(readings, {
    trace: ({ trace }) => trace.number,
    instrument: ({ channel }) => channel.instrument,
    quantity: ({ channel }) => channel.quantity,
    time_utc: (one) => utc(one.at),
    time_ms: (one) => one.at,
    from_trigger_s: ({ at, trace }) => (at - trace.triggeredAt) / 1000,
    value: (one) => one.value,
    unit: ({ channel }) => channel.unit,
    quality: (one) => one.quality,
  })
}

/** One line for each number of a trace; one that could not be reduced says why. */
export function traceReducedCsv({ traces }: PackedTraces): string {
  const lines = traces.flatMap((trace): { trace: TraceView; amount?: TraceAmount; words?: string }[] => {
    const { result } = trace
    if (!result?.isReduced) return [{ trace, words: result?.lacking ?? '' }]
    return result.amounts.map((amount) => ({ trace, amount, words: amount.words }))
  })
  return csvTable(lines, {
    trace: ({ trace }) => trace.number,
    triggered_utc: ({ trace }) => utc(trace.triggeredAt),
    ending: ({ trace }) => trace.ending,
    setting: ({ trace }) => trace.setting,
    readings: ({ trace }) => trace.readings,
    verdict: ({ trace }) => trace.verdict,
    reason: ({ trace }) => trace.reason,
    amount: ({ amount }) => amount?.id,
    name: ({ amount }) => amount?.name,
    value: ({ amount }) => amount?.value,
    U95: ({ amount }) => amount?.u95,
    unit: ({ amount }) => amount?.unit,
    words: (one) => one.words,
  })
}

export function togetherCsv({ together }: PackedTraces): string {
  return csvTable(together.amounts, {
    amount: (one) => one.id,
    name: (one) => one.name,
    traces: (one) => one.count,
    mean: (one) => one.value,
    deviation: (one) => one.deviation,
    low95: (one) => one.low,
    high95: (one) => one.high,
    unit: (one) => one.unit,
    expected: (one) => one.expected,
    expected_from: (one) => one.expectedFrom,
    compared: (one) => one.compared,
  })
}

export function curvesCsv({ traces }: PackedTraces): string {
  const places = traces.flatMap(({ number, result }) =>
    (result?.isReduced ? result.curves : []).flatMap((curve) =>
      curve.x.map((x, i) => ({ number, curve, x, y: curve.y[i] })),
    ),
  )
  return csvTable(places, {
    trace: (one) => one.number,
    curve: ({ curve }) => curve.id,
    x: (one) => one.x,
    x_unit: ({ curve }) => curve.xUnit,
    y: (one) => one.y,
    y_unit: ({ curve }) => curve.unit,
  })
}

export function typedCsv({ points }: PackedTraces): string {
  const values = points.flatMap((point) => point.figures.map((figure) => ({ point, figure })))
  return csvTable(values, {
    point: ({ point }) => point.number,
    figure: ({ figure }) => figure.id,
    value: ({ figure }) => figure.mean,
    u: ({ figure }) => figure.typeB,
    by: ({ point }) => point.by,
    measured_by: ({ point }) => point.measuredBy,
    verdict: ({ point }) => point.verdict,
    reason: ({ point }) => point.reason,
  })
}
