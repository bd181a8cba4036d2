import { viewOf, withInterval } from '../../wire/amounts.ts'
import { plain } from '../../wire/numbers.ts'
import { printUnit } from '../../wire/units.ts'
import { escapeMarkup } from '../plot/plotText.ts'
import type { Budget, BudgetRow } from './budget.ts'
import { heading, paragraph, tableOf } from './markup.ts'
import { amountText } from './texts.ts'
import type { WorkedPoint, WorkedStep } from './workedPoint.ts'
import { freedomText, resultText } from './workedText.ts'

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

function stepHtml({ figure, lines, result, mean, source }: WorkedStep): string {
  const stored = mean === null ? '' : `. Mean of the readings, as stored: ${amountText(figure, mean)}`
  const shown = [
    ...lines,
    result === null ? '(cannot be worked from means alone)' : `= ${resultText(figure, result)}`,
  ]
  return [
    `<div class="step"><b>${escapeMarkup(figure.name)} ${escapeMarkup(figure.symbol)}</b>`,
    ...shown.map((text) => paragraph(text, 'formula')),
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
