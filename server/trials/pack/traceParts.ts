import { titleWithUnit, viewOf, withEither, withInterval } from '../../wire/amounts.ts'
import type { TogetherAmount, TraceView } from '../../wire/trace.ts'
import type { Plot } from '../plot/plot.ts'
import { drawTrace } from '../trace/drawTrace.ts'
import { reductions } from '../trace/reductions/index.ts'
import { heading, listOf, paragraph, tableOf } from './markup.ts'
import type { PackedTraces, PackParts, Section } from './packedRun.ts'
import { plotTitles, short, timeText } from './texts.ts'
import { curvesCsv, togetherCsv, traceRawCsv, traceReducedCsv, typedCsv } from './traceCsv.ts'

/** What is of its own in the pack of a run of traces. */
export function traceParts(run: PackedTraces): PackParts {
  const { traces, together, points } = run
  return {
    how: howSections(run),
    result: [
      ['Result', together.lacking === '' ? together.amounts.map(resultLine) : [together.lacking]],
      ['Remarks', together.remarks],
    ],
    taken: [
      [
        'Traces',
        traces.map(
          (one) =>
            `${one.number}: ${one.endingWords}, ${one.readings} readings, ${one.verdict}${one.reason && `: ${one.reason}`}`,
        ),
      ],
    ],
    howHtml: traceHowHtml(run),
    takenHtml: tracesHtml(run),
    resultHtml: traceResultHtml(run),
    plots: tracePlots(run),
    texts: () => ({
      'raw.csv': traceRawCsv(run),
      'reduced.csv': traceReducedCsv(run),
      'together.csv': togetherCsv(run),
      'curves.csv': curvesCsv(run),
      ...(points.length > 0 ? { 'typed.csv': typedCsv(run) } : {}),
    }),
    files: [
      'raw.csv: every reading at its own time, SI units. reduced.csv: the numbers of each trace. together.csv: of all kept.',
      'curves.csv: fitted and counted curves. plot: the traces laid over each other.',
    ],
  }
}

function howSections({ method, points }: PackedTraces): Section[] {
  const { view, reduction, constants } = method
  return [
    ['What is recorded', view.channels.map((one) => `${one.instrument}: ${rate(one.periodMs)}`)],
    ['A trace', [`begins when ${view.begins}; ends when ${view.ends}.`, view.policy]],
    ['Reduction', reductions.get(reduction)?.method ?? []],
    [
      'Constants of the plant file (SI)',
      Object.entries(constants).map(([name, value]) => `${name}: ${short(value)}`),
    ],
    [
      'Typed values',
      points.map((point) => point.figures.map((one) => `${one.id} ${short(one.mean)}`).join(', ')),
    ],
  ]
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
  compared: words,
}: TogetherAmount): string {
  const interval = low === null || high === null ? '' : `, 95 % interval ${short(low)} to ${short(high)}`
  const scatter = deviation === null ? '' : `, standard deviation ${short(deviation)}`
  const compared = expected === null ? '' : `. Expected ${short(expected)}`
  return `${group === undefined ? '' : `${group}: `}${name}: ${short(value)} ${unit} from ${count}${interval}${scatter}${compared}. ${words}`.trim()
}

/** Drawn together at most, the newest kept ones; more would be a tangle. */
const MOST_DRAWN = 6

/** The main quantity of the newest kept traces, laid over each other. */
function tracePlots(run: PackedTraces): Map<string, Plot> {
  const plot = tracePlot(run)
  return new Map(plot ? [['plot', plot]] : [])
}

function tracePlot(run: PackedTraces): Plot | undefined {
  const { main, channels } = run.method.view
  const channel = channels.find(({ quantity }) => quantity === main)
  const kept = run.traces.filter(({ verdict }) => verdict === 'kept').slice(-MOST_DRAWN)
  if (!channel || kept.length === 0) return undefined
  const way = viewOf(channel)
  return {
    ...plotTitles(run),
    x: `Time from ${kept.every(({ result }) => result?.isReduced) ? 'the beginning' : 'the trigger'} [s]`,
    y: titleWithUnit(channel),
    series: kept.map((one) => {
      const { number, triggeredAt, result } = one
      const zeroAt = result?.isReduced ? result.zeroAt : triggeredAt
      const { lines } = drawTrace({ number, zeroAt, raw: run.raw[number] ?? [] })
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

/** What begins and ends a trace, and how it is reduced. */
function traceHowHtml({ method: { view, reduction } }: PackedTraces): string {
  return [
    paragraph(`A trace begins when ${view.begins}; it ends when ${view.ends}.`),
    listOf(reductions.get(reduction)?.method ?? []),
  ].join('\n')
}

/** Means of the kept traces. */
function traceResultHtml({ together }: PackedTraces): string {
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
  const { group, value, low, high, count, expected, expectedFrom, compared } = one
  const name = group === undefined ? one.name : `${group}: ${one.name.toLowerCase()}`
  const { print } = viewOf(one)
  const known =
    low === null || high === null ? withInterval(one, value, 0) : withEither(one, value, [low, high])
  const wanted = expected === null ? '–' : `${withInterval(one, expected, 0)} (${expectedFrom})`
  return [name, `${known} ${print}`.trim(), String(count), wanted, compared]
}

/** Every trace with what was decided about it. */
function tracesHtml({ traces, method }: PackedTraces): string {
  if (traces.length === 0) return heading(2, 'Traces') + paragraph('None was recorded.')
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
      traces.map((one) => [
        String(one.number),
        timeText(one.triggeredAt, method.timeZone).slice(11),
        one.setting,
        one.endingWords,
        String(one.readings),
        saidBy(one),
        one.verdict === 'kept' ? 'kept' : `rejected: ${one.reason}`,
      ]),
      traces.map(({ verdict }) => (verdict === 'rejected' ? 'rejected' : '')),
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
