import type { Amount, BalanceRow, BalanceTable } from '../../../server/wire/findings.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { Panel } from '../parts/panel.tsx'
import type { PointRunProps } from './runProps.ts'

const STATES: Record<BalanceRow['state'], string> = {
  closes: '✓ closes',
  open: '✗ does not close',
  notJudged: '○ not judged',
}

/** Power at every stage at every kept point, and whether the loss is the one that was expected. */
export function BalancePanel({ reply: { findings } }: PointRunProps) {
  const { balance } = findings
  if (!balance) return null
  return (
    <Panel id="power-balance" title="Power balance">
      {balance.points.length === 0 && <p class="quiet">The table begins with the first point.</p>}
      {balance.points.map((point) => (
        <PointTable key={point.point} {...point} />
      ))}
      {balance.points.length > 0 && (
        <p class="hint">
          Expected: by the curves of the plant file. Residual: loss measured less expected. It closes when the
          residual is within its ±, which holds 95 % of scatter, instruments and curve together.
        </p>
      )}
      {balance.points.length > 0 &&
        balance.missing.map((text) => (
          <p class="hint" key={text}>
            {text}.
          </p>
        ))}
    </Panel>
  )
}

function PointTable({ point, setting, rows }: BalanceTable['points'][number]) {
  return (
    <div class="wide-table">
      <table data-balance={point}>
        <caption>
          Point {point}, {setting}
        </caption>
        <thead>
          <tr>
            <th scope="col">Stage</th>
            {['In [W]', 'Out [W]', 'Loss [W]', 'Share', 'Expected loss [W]', 'Residual [W]'].map((head) => (
              <th scope="col" class="at-right" key={head}>
                {head}
              </th>
            ))}
            <th scope="col">Closes?</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Stage key={row.stage} row={row} />
          ))}
        </tbody>
      </table>
    </div>
  )
}

function Stage({ row }: { row: BalanceRow }) {
  const cell = (text: string) => <td class="at-right number nowrap">{text}</td>
  return (
    <tr data-stage={row.stage} data-state={row.state}>
      <th scope="row">{row.name}</th>
      {cell(amount(row.in))}
      {cell(amount(row.out))}
      {cell(amount(row.loss))}
      {cell(`${(100 * row.share).toFixed(1)}\u00a0%`)}
      {cell(row.expected === null ? '–' : formatNumber(row.expected, { u95: row.loss.u95 }).text)}
      {cell(row.residual ? amount(row.residual) : '–')}
      <td class="nowrap">{STATES[row.state]}</td>
    </tr>
  )
}

function amount({ value, u95 }: Amount): string {
  const { text, uncertainty } = formatNumber(value, { u95 })
  return uncertainty === undefined ? text : `${text} ± ${uncertainty}`
}
