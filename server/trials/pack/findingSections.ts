import type { Amount, CheckView, Comparison, RunFindings } from '../../wire/findings.ts'
import type { Section } from './packedRun.ts'
import { short } from './texts.ts'

/** Sections of the method sheet for what a run says besides its one curve; SI units. */
export function findingSections({ series, comparison, further, balance }: RunFindings): Section[] {
  return [
    [
      'Series',
      series.map(({ name, points, result }) => {
        const fit = result.isFitted ? `${result.formula}, ${result.points} points` : result.lacking
        return `${name}: points ${points.join(', ') || 'none'}; ${fit}`
      }),
    ],
    ['Comparison at equal abscissa', comparison ? comparisonLines(comparison) : []],
    [
      'Further curves',
      further.map(({ name, result }) =>
        result.isFitted
          ? `${name}: ${result.parameters.map((one) => `${one.symbol} = ${short(one.value)} (95 %: ${short(one.low)} to ${short(one.high)})`).join(', ')}`
          : `${name}: ${result.lacking}`,
      ),
    ],
    ['Power balance (W, ± is U95)', balance ? balanceLines(balance) : []],
  ]
}

function comparisonLines(comparison: Comparison): string[] {
  if (!comparison.isPossible) return [comparison.lacking]
  return [
    `${comparison.first} less ${comparison.second}:`,
    ...comparison.rows.map(
      ({ x, first, second, gain, low, high }) =>
        `at ${short(x)}: ${short(first)} less ${short(second)} = ${short(gain)} (95 %: ${short(low)} to ${short(high)})`,
    ),
  ]
}

function balanceLines({ points, missing }: NonNullable<RunFindings['balance']>): string[] {
  return [
    ...points.flatMap(({ point, setting, rows }) => [
      `Point ${point} (${setting})`,
      ...rows.map(
        (row) =>
          `  ${row.name}: in ${words(row.in)}, out ${words(row.out)}, loss ${words(row.loss)} (${short(100 * row.share)} % of what enters), expected ${row.expected === null ? 'not known' : short(row.expected)}, residual ${row.residual ? words(row.residual) : 'none'}: ${row.state === 'notJudged' ? 'not judged' : row.state === 'closes' ? 'closes' : 'does not close'}`,
      ),
    ]),
    ...missing,
  ]
}

function words({ value, u95 }: Amount): string {
  return `${short(value)} ± ${short(u95)}`
}

const STATES: Record<CheckView['state'], string> = {
  holds: 'holds',
  fails: 'does not hold',
  unknown: 'not yet known',
  byEye: 'for the eye',
}

/** What a sound result looks like, and what the run says to it. */
export function checkSection(checks: readonly CheckView[]): Section {
  return [
    'What a sound result looks like',
    checks.map(({ text, state, finding }) => `${text} [${STATES[state]}] ${finding}`.trim()),
  ]
}
