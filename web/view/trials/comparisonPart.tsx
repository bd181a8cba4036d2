import { titleWithUnit, withInterval } from '../../../server/wire/amounts.ts'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import type { ComparedPlace, Comparison } from '../../../server/wire/findings.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import type { PointTrialView } from '../../../server/wire/trial.ts'
import { unitView } from '../../../server/wire/units.ts'
import { figureAmount } from './amounts.ts'

/** The first way against the second at equal abscissa, in numbers. */
export function ComparisonPart({ comparison, trial }: { comparison: Comparison; trial: PointTrialView }) {
  const [x, y] = [trial.abscissa, trial.ordinate].map((id) => trial.figures.find((one) => one.id === id))
  if (!x || !y) return null
  if (!comparison.isPossible) return <p class="quiet">No comparison yet: {comparison.lacking}</p>
  const { rows, first, second } = comparison
  const middle = rows[Math.floor(rows.length / 2)]!
  return (
    <div class="result" data-comparison>
      <p class="result-best">
        <b>{first}</b> gives {gainWords(middle, y)} than <b>{second}</b> at {figureAmount(x, middle.x)}.
      </p>
      <div class="wide-table">
        <table>
          <thead>
            <tr>
              <th scope="col" class="at-right">
                {titleWithUnit(x)}
              </th>
              {[first, second, 'Gain'].map((head) => (
                <th scope="col" class="at-right" key={head}>
                  {head} [{unitView(y.unit, y.viewUnit).print}]
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Place key={row.x} row={row} x={x} y={y} />
            ))}
          </tbody>
        </table>
      </div>
      <p class="hint">
        Taken from the two curves at equal {x.name.toLowerCase()}. The ± of the gain holds 95 %; what an
        instrument is off by on both sides cancels in it.
      </p>
    </div>
  )
}

/** "5.4 ± 0.4 % points more", or less. */
function gainWords(row: ComparedPlace, y: FigureDescription): string {
  const view = unitView(y.unit, y.viewUnit)
  const { text, uncertainty } = formatNumber(view.difference(Math.abs(row.gain)), {
    u95: view.difference(halfOf(row)),
  })
  const unit = view.print === '%' ? 'percentage points' : view.print
  return `${text} ± ${uncertainty ?? ''} ${unit} ${row.gain >= 0 ? 'more' : 'less'}`
}

function Place({ row, x, y }: { row: ComparedPlace; x: FigureDescription; y: FigureDescription }) {
  const view = unitView(y.unit, y.viewUnit)
  const height = (value: number) =>
    formatNumber(view.value(value), { u95: view.difference(halfOf(row)) }).text
  return (
    <tr>
      <td class="at-right number">{figureAmount(x, row.x).split('\u00a0')[0]}</td>
      <td class="at-right number">{height(row.first)}</td>
      <td class="at-right number">{height(row.second)}</td>
      <td class="at-right number nowrap">{withInterval(y, row.gain, halfOf(row))}</td>
    </tr>
  )
}

function halfOf({ low, high }: ComparedPlace): number {
  return (high - low) / 2
}
