import { createHash } from 'node:crypto'
import type { TogetherAmount, TraceView } from '../../wire/trace.ts'
import { csvLine } from '../pack/csv.ts'
import type { PackedRun } from '../pack/packedRun.ts'
import type { PackedTraces } from './packedTraces.ts'
import { seriesOf } from './readings.ts'
import { reductions } from './reductions/index.ts'

/** Files of a run that recorded traces: every reading at its own time, what it was reduced to, and how. */
export function traceFiles(run: PackedRun & { traces: PackedTraces }): Record<string, string> {
  return {
    'method.txt': traceMethodSheet(run),
    'raw.csv': rawCsv(run),
    'reduced.csv': reducedCsv(run.traces.view.traces),
    'together.csv': togetherCsv(run.traces.view.together.amounts),
    'curves.csv': curvesCsv(run.traces.view.traces),
    ...(run.stored.length > 0 ? { 'typed.csv': typedCsv(run) } : {}),
    'run.json': runJson(run),
  }
}

/** One line a reading, SI units, at the reading's own time: nothing is brought to a common rate. */
function rawCsv({ method, traces }: PackedRun & { traces: PackedTraces }): string {
  const { channels } = method.trace!.view
  const lines = traces.view.traces.flatMap(({ number, triggeredAt }) => {
    const series = seriesOf(traces.raw[number] ?? [])
    return channels.flatMap(({ instrument, quantity, unit }) => {
      const one = series[quantity]
      const doubtful = new Set(one?.doubtful)
      return (one?.at ?? []).map((at, i) =>
        csvLine([
          ...[number, instrument, quantity, new Date(at).toISOString(), at, (at - triggeredAt) / 1000],
          ...[one!.value[i]!, unit, doubtful.has(i) ? 'doubtful' : 'good'],
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
function reducedCsv(traces: readonly TraceView[]): string {
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

function togetherCsv(amounts: readonly TogetherAmount[]): string {
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
    'verdict',
  ]
  const lines = amounts.map((one) =>
    csvLine([
      ...[
        one.id,
        one.name,
        one.count,
        one.value,
        one.deviation ?? '',
        one.low ?? '',
        one.high ?? '',
        one.unit,
      ],
      ...[one.expected ?? '', one.expectedFrom, one.verdict],
    ]),
  )
  return [csvLine(head), ...lines].join('')
}

function curvesCsv(traces: readonly TraceView[]): string {
  const lines = traces.flatMap(({ number, result }) =>
    result?.isReduced
      ? result.curves.flatMap(({ id, x, y, xUnit, unit }) =>
          x.map((value, i) => csvLine([number, id, value, xUnit, y[i]!, unit])),
        )
      : [],
  )
  return [csvLine(['trace', 'curve', 'x', 'x_unit', 'y', 'y_unit']), ...lines].join('')
}

function typedCsv({ stored }: PackedRun): string {
  const lines = stored.flatMap(({ point }) =>
    point.figures.map(({ id, mean, typeB }) =>
      csvLine([point.number, id, mean, typeB, point.by, point.verdict, point.reason]),
    ),
  )
  return [csvLine(['point', 'figure', 'value', 'u', 'by', 'verdict', 'reason']), ...lines].join('')
}

/** Pieces are put in as they were stored, so that their checksum holds. */
function runJson({ summary, method, stored, traces }: PackedRun & { traces: PackedTraces }): string {
  const raw = traces.view.traces.map(({ number }) => ({
    number,
    parts: (traces.raw[number] ?? []).map((part) => JSON.parse(part) as unknown),
    sha256: createHash('sha256')
      .update((traces.raw[number] ?? []).join(''))
      .digest('hex'),
  }))
  const typed = stored.map(({ point }) => point)
  const { view } = traces
  return `${JSON.stringify({ format: 'headrace-trace-run-1', run: summary, method, traces: view.traces, together: view.together, typed, raw }, null, 1)}\n`
}

function traceMethodSheet({ summary, method, traces, stored }: PackedRun & { traces: PackedTraces }): string {
  const { view } = method
  const plan = method.trace!
  const { together, traces: all } = traces.view
  const sections: [string, readonly string[]][] = [
    ['Aim', [view.aim]],
    ['Steps', view.method],
    ['What is recorded', plan.view.channels.map((one) => `${one.instrument}: ${rate(one.periodMs)}`)],
    ['A trace', [`begins when ${plan.view.begins}; ends when ${plan.view.ends}.`, plan.view.policy]],
    ['Reduction', reductions.get(plan.reduction)?.method ?? []],
    [
      'Constants of the plant file (SI)',
      Object.entries(plan.constants).map(([name, value]) => `${name}: ${short(value)}`),
    ],
    [
      'Typed values',
      stored.map(({ point }) => point.figures.map((one) => `${one.id} ${short(one.mean)}`).join(', ')),
    ],
    [
      'Instruments',
      method.instruments.map((one) => `${one.id} (${one.quantity}, ${one.unit}): ${one.accuracy}`),
    ],
    ['Result', together.lacking === '' ? together.amounts.map(resultLine) : [together.lacking]],
    ['Remarks', together.remarks],
    ['What a sound result looks like', view.checks],
    [
      'Traces',
      all.map(
        (one) =>
          `${one.number}: ${one.endingWords}, ${one.readings} readings, ${one.verdict}${one.reason && `: ${one.reason}`}`,
      ),
    ],
    ['Notes', summary.notes === '' ? [] : [summary.notes]],
    [
      'Files',
      [
        'raw.csv: every reading at its own time, SI units. reduced.csv: the numbers of each trace. together.csv: of all kept.',
        'curves.csv: fitted and counted curves. plot: the traces laid over each other. record.html: the record, prints on A4.',
        'run.json: everything, for programs. plant-file.yaml: as it was. SHA256SUMS: checksums of these files.',
      ],
    ],
    [
      'Caution',
      ['Monitoring is not protection. Limits are examples; whoever answers for the plant decides.'],
    ],
  ]
  const head = [
    view.name,
    `Plant: ${method.plantName}`,
    `Run ${summary.id}: ${summary.name}`,
    `Class ${summary.className || '–'}, group ${summary.group || '–'}, year ${summary.year || '–'}, run by ${summary.by}`,
    `From ${new Date(summary.startedAt).toISOString()} to ${summary.finishedAt === null ? '(not finished)' : new Date(summary.finishedAt).toISOString()}`,
    `Headrace ${method.version}`,
  ]
  const body = sections
    .filter(([, lines]) => lines.length > 0)
    .map(([title, lines]) => `${title}\n${lines.map((line) => `  ${line}`).join('\n')}`)
  return `${[head.join('\n'), ...body].join('\n\n')}\n`
}

function rate(periodMs: number | null): string {
  return periodMs === null ? 'sent only on change' : `every ${periodMs} ms`
}

function resultLine({
  name,
  group,
  value,
  low,
  high,
  unit,
  deviation,
  count,
  expected,
  verdict,
}: TogetherAmount): string {
  const interval = low === null || high === null ? '' : `, 95 % interval ${short(low)} to ${short(high)}`
  const scatter = deviation === null ? '' : `, standard deviation ${short(deviation)}`
  const compared = expected === null ? '' : `. Expected ${short(expected)}`
  return `${group === undefined ? '' : `${group}: `}${name}: ${short(value)} ${unit} from ${count}${interval}${scatter}${compared}. ${verdict}`.trim()
}

function short(value: number): string {
  return String(Number(value.toPrecision(5)))
}
