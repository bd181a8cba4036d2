import { figureOf, titleWithUnit, withInterval } from '../../../server/wire/amounts.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import type { TraceAmount, TraceView } from '../../../server/wire/trace.ts'
import type { TrialView } from '../../../server/wire/trial.ts'
import { printUnit } from '../../../server/wire/units.ts'
import { clockTime } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import { Fact } from '../parts/fact.tsx'
import { Panel } from '../parts/panel.tsx'
import { TableHead } from '../parts/wideTable.tsx'
import { Decision } from './decision.tsx'
import type { RunProps } from './runActions.ts'
import { figureAmount } from './trialText.ts'

/** Everything that was taken, newest first, with its numbers and what was decided about it. */
export function TakesPanel(props: RunProps) {
  const { reply } = props
  const isOfPoints = reply.takes === 'points'
  const count = isOfPoints ? counted(reply.points.length, 'point') : counted(reply.traces.length, 'trace')
  const none = isOfPoints
    ? 'None yet. A point stores itself when everything has been steady.'
    : 'None yet. A trace stores itself while it is recorded.'
  return (
    <Panel id={reply.takes} title={isOfPoints ? 'Points' : 'Traces'} count={count}>
      {(isOfPoints ? reply.points : reply.traces).length === 0 && <p class="quiet">{none}</p>}
      {!isOfPoints && (
        <ol class="lines">
          {[...reply.traces].reverse().map((trace) => (
            <Trace key={trace.number} trace={trace} {...props} />
          ))}
        </ol>
      )}
      {reply.points.length > 0 && <PointTable {...props} />}
    </Panel>
  )
}

function Trace({ trace, hold, actions }: Omit<RunProps, 'reply'> & { trace: TraceView }) {
  const { number, verdict, result, readings, setting } = trace
  const zone = hold.view.timeZone
  return (
    <li
      class={verdict === 'rejected' ? 'point-rejected' : undefined}
      data-trace={number}
      data-verdict={verdict}
      data-ending={trace.ending}
    >
      <div class="row trace-head">
        <b>Trace {number}</b> <span class="number">{clockTime(trace.triggeredAt, zone)}</span>
        <span>
          {trace.endingWords}, {readings} readings{setting && `, ${setting}`}
        </span>
        {trace.ending !== 'recording' && (
          <Decision takes="traces" take={trace} zone={zone} actions={actions} />
        )}
      </div>
      {result && !result.isReduced && <p class="quiet">{result.lacking}</p>}
      {result?.isReduced && (
        <>
          <dl class="amounts">
            {result.amounts.map((one) => (
              <Fact key={one.id} word={one.name} data-amount={one.id}>
                <b class="number nowrap">{traceAmount(one)}</b> {one.words}
              </Fact>
            ))}
          </dl>
          {result.remarks.map((one) => (
            <p class="hint" key={one}>
              {one}
            </p>
          ))}
        </>
      )}
    </li>
  )
}

function traceAmount(one: TraceAmount): string {
  return one.value === null || !one.u95
    ? figureAmount(one, one.value)
    : `${withInterval(one, one.value, one.u95)}\u00a0${printUnit(one.viewUnit)}`
}

/** In a run of traces these are the typed ones. */
function PointTable(props: RunProps) {
  const { reply } = props
  const columns = columnsOf(reply.trial)
  return (
    <div class="wide-table point-table">
      <table>
        {reply.takes === 'traces' && <caption>Typed points</caption>}
        <TableHead
          heads={['No.', 'Time', ...columns.map((one) => `#${titleWithUnit(one)}`), 'Setting', 'Decision']}
        />
        <tbody>
          {[...reply.points].reverse().map((point) => (
            <PointRow key={point.number} point={point} columns={columns} {...props} />
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** Abscissa, ordinate and what is held; the pack has the rest. */
function columnsOf(trial: TrialView): TrialView['figures'] {
  const wanted =
    trial.takes === 'points'
      ? [trial.abscissa, trial.ordinate, ...trial.hold.map((one) => one.figure)]
      : [trial.main, trial.typedPoint?.figure]
  return [...new Set(wanted)].flatMap((id) => figureOf(trial, id) ?? [])
}

/** That a value was typed is told with the name of who did it. */
function isNews(remark: string): boolean {
  return remark !== 'entered by hand' && !remark.startsWith('typed: ')
}

function PointRow({
  point,
  columns,
  reply,
  hold,
  actions,
}: RunProps & { point: TrialPoint; columns: TrialView['figures'] }) {
  const { number, verdict, origin, by, measuredBy, repeatOf } = point
  const zone = hold.view.timeZone
  const series =
    reply.takes === 'points' ? reply.findings.series.find((one) => one.points.includes(number)) : undefined
  const isDoubtful =
    reply.takes === 'points' && reply.result.isFitted && reply.result.doubtful.includes(number)
  return (
    <tr class={verdict === 'rejected' ? 'point-rejected' : ''} data-point={number} data-verdict={verdict}>
      <th scope="row" class="number">
        {number}
      </th>
      <td class="number nowrap">{clockTime(point.at, zone)}</td>
      {columns.map((figure) => {
        const one = figureOf(point, figure.id)
        return (
          <td class="at-right number nowrap" key={figure.id}>
            {one ? withInterval(figure, one.mean, one.u95) : '–'}
          </td>
        )
      })}
      <td>
        {point.setting}
        {repeatOf !== null && ` (repeats ${repeatOf})`}
        {origin === 'manual' && `, by ${by}`}
        {origin === 'combined' && `, one value typed by ${by}`}
        {measuredBy && `, measured by ${measuredBy}`}
        {series && <span class="note">{series.name}</span>}
        {point.remarks.filter(isNews).map((one) => (
          <span class="note" key={one} data-remark>
            {one}
          </span>
        ))}
      </td>
      <td>
        {isDoubtful && verdict === 'kept' && <span>Far from the curve: look at it. </span>}
        <Decision takes="points" take={point} zone={zone} actions={actions} />
      </td>
    </tr>
  )
}
