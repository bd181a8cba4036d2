import type { TogetherAmount } from '../../wire/trace.ts'
import { reductions } from '../trace/reductions/index.ts'
import type { PackedTraces, PackParts, Section } from './packedRun.ts'
import { short } from './texts.ts'
import { curvesCsv, togetherCsv, traceRawCsv, traceReducedCsv, typedCsv } from './traceCsv.ts'
import { traceHowHtml, tracePlots, traceResultHtml, tracesHtml } from './traceRecord.ts'

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
