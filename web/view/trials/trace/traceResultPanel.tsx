import { formatNumber } from '../../../../server/wire/numbers.ts'
import type { TogetherAmount, TraceTogether } from '../../../../server/wire/trace.ts'
import { unitView } from '../../../../server/wire/units.ts'
import { counted } from '../../../format/words.ts'
import { Panel } from '../../parts/panel.tsx'

/** What the kept traces say together. */
export function TraceResultPanel({ together }: { together: TraceTogether }) {
  const { lacking, amounts, remarks } = together
  const main = amounts.filter((one) => one.low !== null)
  return (
    <Panel id="trace-result" title="Result">
      {lacking !== '' && <p class="quiet">{lacking}</p>}
      {main.map((one) => (
        <div class="trace-result" key={one.id} data-together={one.id} data-wire={one.value}>
          <p class="result-best">
            <b>{one.name}:</b> {withEnds(one)}
          </p>
          {one.expected !== null && (
            <p>
              By the {one.expectedFrom}: {plain(one, one.expected)}. <b>{one.compared}</b>
            </p>
          )}
        </div>
      ))}
      {amounts.length > 0 && <MeansTable amounts={amounts} />}
      {remarks.map((one) => (
        <p key={one}>{one}</p>
      ))}
    </Panel>
  )
}

/** Quantities downwards; kinds of traces, where there are several, across. */
function MeansTable({ amounts }: { amounts: readonly TogetherAmount[] }) {
  const groups = [...new Set(amounts.map((one) => one.group ?? ''))]
  const names = [...new Set(amounts.map((one) => one.name))]
  const at = (name: string, group: string) =>
    amounts.find((one) => one.name === name && (one.group ?? '') === group)
  const counts = groups.map((group) =>
    Math.max(...amounts.filter((one) => (one.group ?? '') === group).map((one) => one.count)),
  )
  return (
    <details class="fold" open={amounts.every((one) => one.low === null)}>
      <summary>Means and scatter of the kept traces</summary>
      <div class="wide-means">
        <table class="trace-means">
          <thead>
            <tr>
              <th scope="col">Mean (standard deviation)</th>
              {groups.map((group, i) => (
                <th scope="col" class="at-right nowrap" key={group}>
                  {group} {counted(counts[i]!, 'trace')}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {names.map((name) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                {groups.map((group) => (
                  <td class="at-right number nowrap" key={group}>
                    {meanWords(at(name, group))}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}

function meanWords(one: TogetherAmount | undefined): string {
  if (!one) return '–'
  return one.deviation === null
    ? plain(one, one.value)
    : `${plain(one, one.value)} (${difference(one, one.deviation)})`
}

type Units = Pick<TogetherAmount, 'unit' | 'viewUnit'>

export function plain({ unit, viewUnit }: Units, value: number): string {
  const view = unitView(unit, viewUnit)
  return `${formatNumber(view.value(value)).text}\u00a0${view.print}`.trim()
}

function difference({ unit, viewUnit }: Units, value: number): string {
  const view = unitView(unit, viewUnit)
  return `${String(Number(view.difference(value).toPrecision(2)))}\u00a0${view.print}`.trim()
}

/** "0.0200 kg·m² (95 %: 0.0194 to 0.0205)". */
function withEnds(one: TogetherAmount): string {
  const view = unitView(one.unit, one.viewUnit)
  const u95 = view.difference((one.high! - one.low!) / 2)
  const text = (value: number) => formatNumber(view.value(value), { u95 }).text
  const amount = `${text(one.value)}\u00a0${view.print}`.trim()
  return `${amount} (95 %: ${text(one.low!)} to ${text(one.high!)}), ${one.count === 1 ? 'one trace' : `${one.count} traces`}`
}
