import { seriesOf } from '../trace/readings.ts'
import { csvLine } from './csv.ts'
import type { PackedTraces } from './packedRun.ts'

/** One line a reading, SI units, at the reading's own time: nothing is brought to a common rate. */
export function traceRawCsv({ method, traces, raw }: PackedTraces): string {
  const { channels } = method.view
  const lines = traces.flatMap(({ number, triggeredAt }) => {
    const series = seriesOf(raw[number] ?? [])
    return channels.flatMap(({ instrument, quantity, unit }) => {
      const one = series[quantity]
      const doubtful = new Set(one?.doubtful)
      return (one?.at ?? []).map((at, i) =>
        csvLine([
          number,
          instrument,
          quantity,
          new Date(at).toISOString(),
          at,
          (at - triggeredAt) / 1000,
          one!.value[i]!,
          unit,
          doubtful.has(i) ? 'doubtful' : 'good',
        ]),
      )
    })
  })
  const head = [
    'trace',
    'instrument',
    'quantity',
    'time_utc',
    'time_ms',
    'from_trigger_s',
    'value',
    'unit',
    'quality',
  ]
  return [csvLine(head), ...lines].join('')
}

/** One line for each number of a trace. */
export function traceReducedCsv({ traces }: PackedTraces): string {
  const head = ['trace', 'triggered_utc', 'ending', 'setting', 'readings', 'verdict', 'reason']
  const amounts = ['amount', 'name', 'value', 'U95', 'unit', 'words']
  const lines = traces.flatMap((one) => {
    const { number, triggeredAt, ending, setting, readings, verdict, reason, result } = one
    const start = [number, new Date(triggeredAt).toISOString(), ending, setting, readings, verdict, reason]
    if (!result?.isReduced) return [csvLine([...start, '', '', '', '', '', result?.lacking ?? ''])]
    return result.amounts.map(({ id, name, value, u95, unit, words }) =>
      csvLine([...start, id, name, value ?? '', u95 ?? '', unit, words]),
    )
  })
  return [csvLine([...head, ...amounts]), ...lines].join('')
}

export function togetherCsv({ together: { amounts } }: PackedTraces): string {
  const head = [
    'amount',
    'name',
    'traces',
    'mean',
    'deviation',
    'low95',
    'high95',
    'unit',
    'expected',
    'expected_from',
    'compared',
  ]
  const lines = amounts.map((one) =>
    csvLine([
      one.id,
      one.name,
      one.count,
      one.value,
      one.deviation ?? '',
      one.low ?? '',
      one.high ?? '',
      one.unit,
      one.expected ?? '',
      one.expectedFrom,
      one.compared,
    ]),
  )
  return [csvLine(head), ...lines].join('')
}

export function curvesCsv({ traces }: PackedTraces): string {
  const lines = traces.flatMap(({ number, result }) =>
    result?.isReduced
      ? result.curves.flatMap(({ id, x, y, xUnit, unit }) =>
          x.map((value, i) => csvLine([number, id, value, xUnit, y[i]!, unit])),
        )
      : [],
  )
  return [csvLine(['trace', 'curve', 'x', 'x_unit', 'y', 'y_unit']), ...lines].join('')
}

export function typedCsv({ points }: PackedTraces): string {
  const lines = points.flatMap((point) =>
    point.figures.map(({ id, mean, typeB }) =>
      csvLine([point.number, id, mean, typeB, point.by, point.verdict, point.reason]),
    ),
  )
  return [csvLine(['point', 'figure', 'value', 'u', 'by', 'verdict', 'reason']), ...lines].join('')
}
