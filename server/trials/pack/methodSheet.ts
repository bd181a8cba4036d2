import type { FittedParameter, TrialResult } from '../../wire/trial.ts'
import { bestRemark } from './bestRemark.ts'
import { findingSections } from './findingSections.ts'
import type { PackedRun } from './packedRun.ts'

/** What was done, with what, and by which rules, as plain text: the part of a report that the program can write. */
export function methodSheet({
  summary,
  method,
  result,
  findings,
  stored,
  theory,
  plantText,
}: PackedRun): string {
  const { view } = method
  const sections: [string, string[]][] = [
    ['Aim', [view.aim]],
    [
      'Held',
      view.hold.map(
        ({ figure, target, tolerance }) => `${figure}: ${short(target)} ± ${short(tolerance)} (SI)`,
      ),
    ],
    ['Varied', [`${view.vary.figure}, by ${view.vary.by}`]],
    ['Steps', view.method],
    [
      'When a point is taken',
      [
        'Every watched figure is steady over 20 s, sampled twice a second: scatter and movement along a straight line',
        'within its limit, and no movement told from noise by the ratio of Cao and Rhinehart.',
        ...Object.entries(method.steady).map(
          ([figure, share]) => `${figure}: ${short(100 * share)} % of its value`,
        ),
      ],
    ],
    [
      'Uncertainty',
      [
        'Type A: scatter over the root of the number of independent readings (their correlation is taken off).',
        'Type B: limits of error of the instruments, divided by √3, carried along the formulas. Averaging does not reduce it.',
        'U95: k·u with k from the effective degrees of freedom (JCGM 100:2008, G.4).',
      ],
    ],
    [
      'Instruments',
      method.instruments.map((one) => `${one.id} (${one.quantity}, ${one.unit}): ${one.accuracy}`),
    ],
    ['Curve', [view.fit, ...resultLines(result)]],
    ['Dashed line', theory ? [`What the plant file predicts: ${theory.from}`] : []],
    ...findingSections(findings),
    [
      'Rejected points',
      stored
        .filter(({ point }) => point.verdict === 'rejected')
        .map(({ point }) => `${point.number}: ${point.reason}`),
    ],
    ['Notes', summary.notes === '' ? [] : [summary.notes]],
    [
      'Files',
      [
        'record.html: the record for the printer, with room for names and signature. It is no finished report.',
        'plot*.svg, plot*.png, residuals.*: the plots. curve.csv: their lines, SI units.',
        'worked-point.txt, budget.csv: one point worked in full, and its uncertainty.',
        'raw.csv: every sample, SI units. reduced.csv: one line a point. instruments.csv: what measured.',
        plantText === null
          ? 'The plant file is not here: the run was begun with an older version, which did not store it.'
          : `plant-file.yaml: the plant file (${method.plantFile?.name}) as it was when the run began.`,
        'run.json: everything, for programs. CSV: RFC 4180, UTF-8, comma, decimal point.',
        'SHA256SUMS: checksums of these files; check with "sha256sum -c SHA256SUMS".',
      ],
    ],
    [
      'Caution',
      [
        'Monitoring is not protection. Limits and suggestions are examples; whoever answers for the plant decides.',
      ],
    ],
  ]
  const head = [
    `${view.name}`,
    `Plant: ${method.plantName}${method.isSimulated ? ' (simulated: no measurement of a real machine)' : ''}`,
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

function resultLines(result: TrialResult): string[] {
  if (!result.isFitted) return [`Not laid: ${result.lacking}`]
  const { best } = result
  return [
    `Laid: ${result.formula}, ${result.points} points, ${result.degreesOfFreedom} degrees of freedom`,
    ...result.parameters.map(parameterLine),
    ...(best === null
      ? []
      : [
          `Best point: ${short(best.y)} [${short(best.yLow)}, ${short(best.yHigh)}] at ${short(best.x)} [${short(best.xLow)}, ${short(best.xHigh)}] (SI, 95 %)`,
          ...(bestRemark(best) ? [bestRemark(best)!] : []),
        ]),
  ]
}

function parameterLine({ symbol, name, value, low, high, unit }: FittedParameter): string {
  return `${symbol} (${name}): ${short(value)} ${unit}, 95 % interval ${short(low)} to ${short(high)}`
}

function short(value: number): string {
  return String(Number(value.toPrecision(5)))
}
