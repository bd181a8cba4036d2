import type { FittedParameter, TrialResult } from '../../wire/findings.ts'
import { bestRemark, findingSections } from './findingSections.ts'
import type { PackedPoints, PackParts, Section } from './packedRun.ts'
import { budgetCsv, curveCsv, pointRawCsv, pointReducedCsv } from './pointCsv.ts'
import { pointPlots } from './pointPlots.ts'
import { pointHowHtml, pointResultHtml, pointsHtml } from './pointRecord.ts'
import { short } from './texts.ts'
import { workPoint } from './workedPoint.ts'
import { workedText } from './workedText.ts'

/** What is of its own in the pack of a run of points. */
export function pointParts(run: PackedPoints): PackParts {
  const { method, points, result, findings, theory } = run
  const worked = workPoint(method, points, result)
  return {
    how: howSections(run),
    result: [
      ['Curve', [method.view.fit, ...resultLines(result)]],
      ['Dashed line', theory ? [`What the plant file predicts: ${theory.from}`] : []],
      ...findingSections(findings),
    ],
    taken: [
      [
        'Rejected points',
        points
          .filter(({ verdict }) => verdict === 'rejected')
          .map(({ number, reason }) => `${number}: ${reason}`),
      ],
    ],
    howHtml: pointHowHtml(run),
    takenHtml: pointsHtml(run),
    resultHtml: pointResultHtml(run, worked),
    plots: pointPlots(run),
    texts: () => ({
      'worked-point.txt': workedText(run, worked),
      'budget.csv': budgetCsv(worked),
      'raw.csv': pointRawCsv(run),
      'reduced.csv': pointReducedCsv(run),
      'curve.csv': curveCsv(run),
    }),
    files: [
      'plot*.svg, plot*.png, residuals.*: the plots. curve.csv: their lines, SI units.',
      'worked-point.txt, budget.csv: one point worked in full, and its uncertainty.',
      'raw.csv: every sample, SI units. reduced.csv: one line a point.',
    ],
  }
}

function howSections({ method: { view, steady } }: PackedPoints): Section[] {
  return [
    [
      'Held',
      view.hold.map(
        ({ figure, target, tolerance }) => `${figure}: ${short(target)} ± ${short(tolerance)} (SI)`,
      ),
    ],
    ['Varied', [`${view.vary.figure}, by ${view.vary.by}`]],
    [
      'When a point is taken',
      [
        'Every watched figure is steady over 20 s, sampled twice a second: scatter and movement along a straight line',
        'within its limit, and no movement told from noise by the ratio of Cao and Rhinehart.',
        ...Object.entries(steady).map(([figure, share]) => `${figure}: ${short(100 * share)} % of its value`),
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
  ]
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
