import { titleWithUnit, viewOf, withEither, withInterval } from '../../wire/amounts.ts'
import type { TogetherAmount, TraceView } from '../../wire/trace.ts'
import type { Plot } from '../plot/plot.ts'
import { plotSvg } from '../plot/plotSvg.ts'
import { drawTrace } from '../trace/drawTrace.ts'
import type { PackedTraces } from '../trace/packedTraces.ts'
import { reductions } from '../trace/reductions/index.ts'
import { heading, listOf, paragraph, tableOf } from './markup.ts'
import type { PackedRun } from './packedRun.ts'
import { recordPage } from './recordHtml.ts'
import { plotTitles } from './runPlots.ts'
import { timeText } from './times.ts'

type TracedRun = PackedRun & { traces: PackedTraces }

/** Drawn together at most, the newest kept ones; more would be a tangle. */
const MOST_DRAWN = 6

/** The printable record of a run that recorded traces. */
export function traceRecordHtml(run: TracedRun): string {
  const plot = tracePlot(run)
  return recordPage(run, [
    methodHtml(run),
    resultHtml(run),
    plot ? `${heading(2, 'Plot')}\n<figure>${plotSvg(plot)}</figure>` : '',
    tracesHtml(run),
  ])
}

/** The main quantity of the newest kept traces, laid over each other. */
export function tracePlot(run: TracedRun): Plot | undefined {
  const { main, channels } = run.method.trace!.view
  const channel = channels.find(({ quantity }) => quantity === main)
  const kept = run.traces.view.traces.filter(({ verdict }) => verdict === 'kept').slice(-MOST_DRAWN)
  if (!channel || kept.length === 0) return undefined
  const way = viewOf(channel)
  return {
    ...plotTitles(run),
    x: `Time from ${kept.every(({ result }) => result?.isReduced) ? 'the beginning' : 'the trigger'} [s]`,
    y: titleWithUnit(channel),
    series: kept.map((one) => {
      const { number, triggeredAt, result } = one
      const zeroAt = result?.isReduced ? result.zeroAt : triggeredAt
      const { lines } = drawTrace({ number, zeroAt, raw: run.traces.raw[number] ?? [] })
      const line = lines.find(({ quantity }) => quantity === main)
      const y = (line?.value ?? []).map(way.value)
      const label = `Trace ${number}`
      return { label, points: [], curve: { label, x: line?.at ?? [], y, low: y, high: y } }
    }),
    theory: null,
    best: null,
    hasZeroLine: false,
  }
}

function methodHtml({ method, summary }: TracedRun): string {
  const { view, trace } = method
  return [
    heading(2, 'Aim and method'),
    paragraph(view.aim),
    listOf(view.method, 'ol'),
    paragraph(`A trace begins when ${trace!.view.begins}; it ends when ${trace!.view.ends}.`),
    listOf([...(reductions.get(trace!.reduction)?.method ?? [])]),
    ...(summary.notes === ''
      ? []
      : [heading(3, 'Notes'), ...summary.notes.split('\n').map((line) => paragraph(line))]),
    heading(2, 'Instruments'),
    tableOf(
      [{ title: 'Instrument' }, { title: 'Measures' }, { title: 'Limits of error' }],
      method.instruments.map(({ id, quantity, accuracy }) => [
        id,
        trace!.view.channels.find((one) => one.quantity === quantity)?.name ?? quantity,
        accuracy,
      ]),
    ),
  ].join('\n')
}

function resultHtml({ traces }: TracedRun): string {
  const { together } = traces.view
  if (together.lacking !== '') return heading(2, 'Result') + paragraph(together.lacking)
  return [
    heading(2, 'Result'),
    tableOf(
      [
        { title: 'Amount' },
        { title: 'Mean, 95 %', isNumber: true },
        { title: 'Traces', isNumber: true },
        { title: 'Expected', isNumber: true },
        { title: 'Compared' },
      ],
      together.amounts.map(amountRow),
    ),
    listOf(together.remarks),
  ].join('\n')
}

function amountRow(one: TogetherAmount): string[] {
  const { group, value, low, high, count, expected, expectedFrom, verdict } = one
  const name = group === undefined ? one.name : `${group}: ${one.name.toLowerCase()}`
  const { print } = viewOf(one)
  const known =
    low === null || high === null ? withInterval(one, value, 0) : withEither(one, value, [low, high])
  const wanted = expected === null ? '–' : `${withInterval(one, expected, 0)} (${expectedFrom})`
  return [name, `${known} ${print}`.trim(), String(count), wanted, verdict]
}

function tracesHtml({ traces, method }: TracedRun): string {
  const { view } = traces
  if (view.traces.length === 0) return heading(2, 'Traces') + paragraph('None was recorded.')
  return [
    heading(2, 'Traces'),
    tableOf(
      [
        { title: 'No.' },
        { title: 'Time', isNumber: true },
        { title: 'Setting' },
        { title: 'End' },
        { title: 'Readings', isNumber: true },
        { title: 'What it says' },
        { title: 'Decision' },
      ],
      view.traces.map((one) => [
        String(one.number),
        timeText(one.triggeredAt, method.timeZone ?? 'UTC').slice(11),
        one.setting,
        one.endingWords,
        String(one.readings),
        saidBy(one),
        one.verdict === 'kept' ? 'kept' : `rejected: ${one.reason}`,
      ]),
      view.traces.map(({ verdict }) => (verdict === 'rejected' ? 'rejected' : '')),
    ),
    paragraph('Every reading at its own time: raw.csv.', 'quiet'),
  ].join('\n')
}

function saidBy({ result }: TraceView): string {
  if (!result) return '–'
  if (!result.isReduced) return result.lacking
  return result.amounts
    .flatMap((one) =>
      one.value === null
        ? []
        : [`${one.name} ${withInterval(one, one.value, one.u95 ?? 0)} ${viewOf(one).print}`.trim()],
    )
    .join('; ')
}
