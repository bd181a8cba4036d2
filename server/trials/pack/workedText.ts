import { viewOf, withInterval } from '../../wire/amounts.ts'
import { plain } from '../../wire/numbers.ts'
import { printUnit } from '../../wire/units.ts'
import { escapeMarkup } from '../plot/plotText.ts'
import type { Budget, BudgetRow } from './budget.ts'
import { heading, paragraph, tableOf } from './markup.ts'
import type { PackedPoints } from './packedRun.ts'
import { amountText, timeText } from './texts.ts'
import type { WorkedPoint, WorkedStep } from './workedPoint.ts'

/** One point worked through, as plain text. */
export function workedText({ method, summary }: PackedPoints, worked: WorkedPoint | undefined): string {
  if (!worked) return 'No point is kept: there is nothing to work through.\n'
  const { point, why, readings, steps, budget } = worked
  const head = [
    `Run ${summary.id}: ${summary.name}`,
    `Point ${point.number}, ${why}.`,
    `Setting: ${point.setting || '–'}. Mean of ${point.samples} samples up to ${timeText(point.at, method.timeZone)} (${method.timeZone}).`,
    'Numbers in the formulas are SI: m, s, kg, W, Pa, rad, K. A plain number such as 0.7 is 70 %.',
  ]
  const read = readings.map(
    ({ figure, own }) =>
      `  ${figure.symbol} (${figure.name.toLowerCase()}): ${withInterval(figure, own.mean, own.u95)} ${viewOf(figure).print}`.trimEnd() +
      ` = ${plain(own.mean)} ${printUnit(figure.unit)} (SI)`,
  )
  const body = [
    head.join('\n'),
    ['Readings, means with 95 % intervals', ...read].join('\n'),
    ['Steps', ...steps.map(stepText)].join('\n'),
    budget ? budgetText(budget) : 'The ordinate was not measured at this point.',
  ]
  return `${body.join('\n\n')}\n`
}

/** The formula, its numbers and what they give. */
function workingOf({ figure, lines, result }: WorkedStep): string[] {
  const end = result === null ? '(cannot be worked from means alone)' : `= ${resultText(figure, result)}`
  return [...lines, end]
}

function stepText(step: WorkedStep): string {
  const { figure, mean, source } = step
  const shown = [
    ...workingOf(step),
    ...(mean === null ? [] : [`mean of the readings, as stored: ${amountText(figure, mean)}`]),
    source,
  ]
  return [`  ${figure.name} ${figure.symbol}`, ...shown.map((line) => `    ${line}`)].join('\n')
}

/** In SI, and as people read it where that differs. */
function resultText(figure: WorkedStep['figure'], result: number): string {
  const si = `${plain(result)} ${printUnit(figure.unit)}`.trim()
  return figure.unit === figure.viewUnit
    ? amountText(figure, result)
    : `${si} = ${amountText(figure, result)}`
}

function budgetText({ figure, value, rows, ...whole }: Budget): string {
  const table = [
    ['source', 'value', 'limits', 'distribution', 'divisor', 'u', 'sensitivity', 'contribution', 'share'],
    ...rows.map((row) => [
      `${row.type}: ${row.source}`,
      withUnit(row.value, row.unit),
      row.limits === null ? '–' : withUnit(row.limits, row.unit),
      row.distribution,
      row.divisor === null ? '–' : plain(row.divisor),
      withUnit(row.standard, row.unit),
      plain(row.sensitivity),
      plain(row.contribution),
      `${(100 * row.share).toFixed(1)} %`,
    ]),
  ]
  const widths = table[0]!.map((_, column) => Math.max(...table.map((row) => row[column]!.length)))
  const unit = figure.unit === '1' ? '' : ` ${printUnit(figure.unit)}`
  return [
    `Uncertainty budget of ${figure.name.toLowerCase()}, ${amountText(figure, value)} (JCGM 100:2008; SI units)`,
    ...table.map((row) => `  ${row.map((cell, i) => cell.padEnd(widths[i]!)).join('  ')}`.trimEnd()),
    `  combined standard uncertainty u_c = root of the sum of squares = ${plain(whole.combined)}${unit}`,
    `  effective degrees of freedom (Welch-Satterthwaite): ${freedomText(whole.degreesOfFreedom)}`,
    `  coverage factor k for 95 %: ${plain(whole.coverageFactor)}`,
    `  U95 = k·u_c = ${plain(whole.expanded)}${unit}`,
    `  Result: ${withInterval(figure, value, whole.expanded)} ${viewOf(figure).print}`.trimEnd(),
  ].join('\n')
}

function freedomText(freedom: number): string {
  return Number.isFinite(freedom) && freedom < 1e6 ? plain(freedom, 3) : 'infinite'
}

function withUnit(value: number, unit: string): string {
  if (!Number.isFinite(value)) return '–'
  return `${plain(value)} ${printUnit(unit)}`.trim()
}

/** One point worked in full, with its uncertainty budget. */
export function workedHtml(worked: WorkedPoint | undefined): string {
  if (!worked) return ''
  const { point, why, readings, steps, budget } = worked
  return [
    heading(2, `Worked point ${point.number}`),
    paragraph(`It is ${why}. Setting: ${point.setting || '–'}. Numbers in the formulas are SI; 0.7 is 70 %.`),
    tableOf(
      [{ title: 'Reading' }, { title: 'Mean, 95 %', isNumber: true }, { title: 'SI', isNumber: true }],
      readings.map(({ figure, own }) => [
        `${figure.name} ${figure.symbol}`,
        `${withInterval(figure, own.mean, own.u95)} ${viewOf(figure).print}`.trim(),
        `${plain(own.mean)} ${printUnit(figure.unit)}`.trim(),
      ]),
    ),
    steps.map(stepHtml).join('\n'),
    budget ? budgetHtml(budget) : '',
  ].join('\n')
}

function stepHtml(step: WorkedStep): string {
  const { figure, mean, source } = step
  const stored = mean === null ? '' : `. Mean of the readings, as stored: ${amountText(figure, mean)}`
  return [
    `<div class="step"><b>${escapeMarkup(figure.name)} ${escapeMarkup(figure.symbol)}</b>`,
    ...workingOf(step).map((text) => paragraph(text, 'formula')),
    paragraph(source + stored, 'quiet'),
    '</div>',
  ].join('')
}

function budgetHtml({ figure, value, rows, ...whole }: Budget): string {
  const unit = figure.unit === '1' ? '' : ` ${printUnit(figure.unit)}`
  return [
    heading(
      3,
      `Uncertainty budget of ${figure.name.toLowerCase()}, ${amountText(figure, value)} (JCGM 100:2008)`,
    ),
    tableOf(
      [
        { title: 'Source' },
        { title: 'Unit' },
        { title: 'Value', isNumber: true },
        { title: 'Limits ±', isNumber: true },
        { title: 'Distribution, divisor' },
        { title: 'u', isNumber: true },
        { title: 'Sensitivity', isNumber: true },
        { title: `Contribution${unit && ` [${unit.trim()}]`}`, isNumber: true },
        { title: 'Share', isNumber: true },
      ],
      rows.map(rowCells),
    ),
    paragraph(
      'Sensitivity: by how much the result moves for one unit of the source. Contribution: sensitivity times u.',
      'quiet',
    ),
    paragraph(
      [
        `Combined u_c = ${plain(whole.combined)}${unit}; effective degrees of freedom ${freedomText(whole.degreesOfFreedom)}`,
        `k = ${plain(whole.coverageFactor)} for 95 %; U95 = k·u_c = ${plain(whole.expanded)}${unit}.`,
      ].join('; '),
    ),
    paragraph(
      `Result: ${figure.name.toLowerCase()} ${withInterval(figure, value, whole.expanded)} ${viewOf(figure).print}`.trim(),
    ),
  ].join('\n')
}

function rowCells(row: BudgetRow): string[] {
  return [
    `${row.type}: ${row.source}`,
    printUnit(row.unit),
    Number.isFinite(row.value) ? plain(row.value, 4) : '–',
    row.limits === null ? '–' : plain(row.limits, 3),
    row.divisor === null ? row.distribution : `${row.distribution}, ${plain(row.divisor, 3)}`,
    plain(row.standard, 3),
    plain(row.sensitivity, 3),
    plain(row.contribution, 3),
    `${(100 * row.share).toFixed(1)} %`,
  ]
}
