import { figureOf, titleWithUnit, viewOf, withInterval } from '../../../server/wire/amounts.ts'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import type { ComparedPlace, Comparison } from '../../../server/wire/findings.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import type { PointTrialView } from '../../../server/wire/trial.ts'
import { WideTable } from '../parts/wideTable.tsx'
import { figureAmount } from './trialText.ts'

/** The first way against the second at equal abscissa, in numbers. */
export function ComparisonPart({ comparison, trial }: { comparison: Comparison; trial: PointTrialView }) {
  const [x, y] = [trial.abscissa, trial.ordinate].map((id) => figureOf(trial, id))
  if (!x || !y) return null
  if (!comparison.isPossible) return <p class="quiet">No comparison yet: {comparison.lacking}</p>
  const { rows, first, second } = comparison
  const middle = rows[Math.floor(rows.length / 2)]!
  return (
    <div class="result" data-comparison>
      <p class="result-best">
        <b>{first}</b> gives {gainWords(middle, y)} than <b>{second}</b> at {figureAmount(x, middle.x)}.
      </p>
      <WideTable
        caption={`${first} and ${second}`}
        heads={[
          titleWithUnit(x),
          ...[first, second, 'Gain'].map((name) => titleWithUnit({ ...y, name })),
        ].map((head) => `#${head}`)}
        rows={rows.map((row) => ({ key: String(row.x), isBad: false, cells: cellsOf(row, x, y) }))}
      />
      <p class="hint">
        Taken from the two curves at equal {x.name.toLowerCase()}. The ± of the gain holds 95 %; what an
        instrument is off by on both sides cancels in it.
      </p>
    </div>
  )
}

/** "5.4 ± 0.4 % points more", or less. */
function gainWords(row: ComparedPlace, y: FigureDescription): string {
  const view = viewOf(y)
  const { text, uncertainty } = formatNumber(view.difference(Math.abs(row.gain)), {
    u95: view.difference(halfOf(row)),
  })
  const unit = view.print === '%' ? 'percentage points' : view.print
  return `${text} ± ${uncertainty ?? ''} ${unit} ${row.gain >= 0 ? 'more' : 'less'}`
}

function cellsOf(row: ComparedPlace, x: FigureDescription, y: FigureDescription): string[] {
  const view = viewOf(y)
  const u95 = view.difference(halfOf(row))
  return [
    figureAmount(x, row.x).split('\u00a0')[0]!,
    ...[row.first, row.second].map((value) => formatNumber(view.value(value), { u95 }).text),
    withInterval(y, row.gain, halfOf(row)),
  ]
}

function halfOf({ low, high }: ComparedPlace): number {
  return (high - low) / 2
}
