import { escapeMarkup } from '../plot/plotText.ts'
import { amountText, plain, unitWay, withInterval } from './amounts.ts'
import type { Budget } from './budget.ts'
import { heading, paragraph, tableOf } from './markup.ts'
import type { PackedRun } from './packedRun.ts'
import type { WorkedPoint, WorkedStep } from './workedPoint.ts'
import { freedomText } from './workedText.ts'

/** One point worked in full, with its uncertainty budget. */
export function workedHtml({ method }: PackedRun, worked: WorkedPoint | undefined): string {
  if (!worked) return ''
  const { point, why, readings, steps, budget } = worked
  return [
    heading(2, `Worked point ${point.number}`),
    paragraph(`It is ${why}. Setting: ${point.setting || '–'}. Numbers in the formulas are SI; 0.7 is 70 %.`),
    tableOf(
      [{ title: 'Reading' }, { title: 'Mean, 95 %', isNumber: true }, { title: 'SI', isNumber: true }],
      readings.map(({ figure, own }) => [
        `${figure.name} ${figure.symbol}`,
        `${withInterval(figure, own.mean, own.u95)} ${unitWay(figure).print}`.trim(),
        `${plain(own.mean)} ${figure.unit === '1' ? '' : figure.unit}`.trim(),
      ]),
    ),
    method.workings
      ? steps.map(stepHtml).join('\n')
      : paragraph('This run was begun with an older version, which did not store the formulas.'),
    budget ? budgetHtml(budget) : '',
  ].join('\n')
}

function stepHtml({ figure, formula, numbers, result, mean, source }: WorkedStep): string {
  const line = (text: string) => `<p class="formula">${escapeMarkup(text)}</p>`
  return [
    `<div class="step"><b>${escapeMarkup(figure.name)}</b>`,
    line(`${figure.symbol} = ${formula}`),
    numbers === '' || numbers === formula ? '' : line(`= ${numbers}`),
    result === null
      ? line('(cannot be worked from means alone)')
      : line(
          `= ${plain(result)}${figure.unit === '1' ? '' : ` ${figure.unit}`} = ${amountText(figure, result)}`,
        ),
    paragraph(
      `${source}${mean === null ? '' : `. Mean of the readings, as stored: ${amountText(figure, mean)}`}`,
      'quiet',
    ),
    '</div>',
  ].join('')
}

function budgetHtml({ figure, value, rows, ...whole }: Budget): string {
  const unit = figure.unit === '1' ? '' : ` ${figure.unit}`
  const withUnit = (amount: number, code: string) =>
    Number.isFinite(amount) ? `${plain(amount)}${code === '1' || code === '' ? '' : ` ${code}`}` : '–'
  return [
    heading(
      3,
      `Uncertainty budget of ${figure.name.toLowerCase()}, ${amountText(figure, value)} (JCGM 100:2008)`,
    ),
    tableOf(
      [
        { title: 'Source' },
        { title: 'Value', isNumber: true },
        { title: 'Limits ±', isNumber: true },
        { title: 'Distribution' },
        { title: 'Divisor', isNumber: true },
        { title: 'u', isNumber: true },
        { title: 'Sensitivity', isNumber: true },
        { title: `Contribution${unit && ` [${unit.trim()}]`}`, isNumber: true },
        { title: 'Share', isNumber: true },
      ],
      rows.map((row) => [
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
    ),
    paragraph(
      `Combined u_c = ${plain(whole.combined)}${unit}; effective degrees of freedom ${freedomText(whole.degreesOfFreedom)}; ` +
        `k = ${plain(whole.coverageFactor)} for 95 %; U95 = k·u_c = ${plain(whole.expanded)}${unit}. ` +
        `Result: ${withInterval(figure, value, whole.expanded)} ${unitWay(figure).print}`.trim(),
    ),
  ].join('\n')
}
