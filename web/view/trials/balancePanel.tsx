import type { ComponentChildren } from 'preact'
import type { Amount, BalanceRow } from '../../../server/wire/findings.ts'
import { formatNumber, NO_VALUE } from '../../../server/wire/numbers.ts'
import { Panel } from '../parts/panel.tsx'
import { WideTable } from '../parts/wideTable.tsx'
import type { PointRunProps } from './runActions.ts'

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
      {balance.points.map(({ point, setting, rows }) => (
        <WideTable
          key={point}
          caption={`Point ${point}, ${setting}`}
          heads={HEADS}
          rows={rows.map((row) => ({ key: row.stage, isBad: false, cells: cellsOf(row) }))}
        />
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

const HEADS = [
  'Stage',
  '#In [W]',
  '#Out [W]',
  '#Loss [W]',
  '#Share',
  '#Expected loss [W]',
  '#Residual [W]',
  'Closes?',
]

function cellsOf({
  name,
  in: enters,
  out,
  loss,
  share,
  expected,
  residual,
  state,
}: BalanceRow): ComponentChildren[] {
  return [
    name,
    ...[enters, out, loss].map(amount),
    `${(100 * share).toFixed(1)}\u00a0%`,
    expected === null ? NO_VALUE : formatNumber(expected, { u95: loss.u95 }).text,
    residual ? amount(residual) : NO_VALUE,
    <span class="number">{STATES[state]}</span>,
  ]
}

function amount({ value, u95 }: Amount): string {
  const { text, uncertainty } = formatNumber(value, { u95 })
  return uncertainty === undefined ? text : `${text} ± ${uncertainty}`
}
