import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { titleWithUnit, withInterval } from '../../../server/wire/amounts.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import type { TrialView } from '../../../server/wire/trial.ts'
import { clockTime } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import { Panel } from '../parts/panel.tsx'
import type { RunProps } from './runProps.ts'
import { mayTry } from './trialRight.tsx'

/** Every point, newest first, with what was decided about it. */
export function PointsPanel({ reply, hold, actions }: RunProps) {
  const { points, trial } = reply
  const columns = columnsOf(trial)
  const doubtful = reply.takes === 'points' && reply.result.isFitted ? reply.result.doubtful : []
  const series = reply.takes === 'points' ? reply.findings.series : []
  return (
    <Panel id="points" title="Points" aside={<span class="count">{counted(points.length, 'point')}</span>}>
      {points.length === 0 && (
        <p class="quiet">None yet. A point stores itself when everything has been steady.</p>
      )}
      {points.length > 0 && (
        <div class="wide-table">
          <table>
            <thead>
              <tr>
                <th scope="col">No.</th>
                <th scope="col">Time</th>
                {columns.map((figure) => (
                  <th scope="col" class="at-right" key={figure.id}>
                    {titleWithUnit(figure)}
                  </th>
                ))}
                <th scope="col">Setting</th>
                <th scope="col">Decision</th>
              </tr>
            </thead>
            <tbody>
              {[...points].reverse().map((point) => (
                <PointRow
                  key={point.number}
                  point={point}
                  columns={columns}
                  zone={hold.view.timeZone}
                  isDoubtful={doubtful.includes(point.number)}
                  series={series.find((one) => one.points.includes(point.number))?.name}
                  actions={actions}
                />
              ))}
            </tbody>
          </table>
        </div>
      )}
    </Panel>
  )
}

/** Abscissa, ordinate and what is held; the pack has the rest. */
function columnsOf(trial: TrialView) {
  const wanted =
    trial.takes === 'points'
      ? [trial.abscissa, trial.ordinate, ...trial.hold.map((one) => one.figure)]
      : [trial.main, trial.typedPoint?.figure]
  return [...new Set(wanted)].flatMap((id) => trial.figures.find((figure) => figure.id === id) ?? [])
}

interface PointRowProps {
  point: TrialPoint
  columns: TrialView['figures']
  zone: string
  isDoubtful: boolean
  series: string | undefined
  actions: RunProps['actions']
}

function PointRow({ point, columns, zone, isDoubtful, series, actions }: PointRowProps) {
  const isRejected = point.verdict === 'rejected'
  return (
    <tr class={isRejected ? 'point-rejected' : ''} data-point={point.number} data-verdict={point.verdict}>
      <th scope="row" class="number">
        {point.number}
      </th>
      <td class="number nowrap">{clockTime(point.at, zone)}</td>
      {columns.map((figure) => {
        const one = point.figures.find(({ id }) => id === figure.id)
        return (
          <td class="at-right number nowrap" key={figure.id}>
            {one ? withInterval(figure, one.mean, one.u95) : '–'}
          </td>
        )
      })}
      <td>
        {point.setting}
        {point.repeatOf !== null && ` (repeats ${point.repeatOf})`}
        {point.origin === 'manual' && `, by ${point.by}`}
        {point.origin === 'combined' && `, one value typed by ${point.by}`}
        {series !== undefined && <span class="point-series">{series}</span>}
      </td>
      <td>
        {isRejected && <span>Rejected: {point.reason} </span>}
        {isDoubtful && !isRejected && <span>Far from the curve: look at it. </span>}
        {mayTry() && <Decision point={point} actions={actions} />}
      </td>
    </tr>
  )
}

function Decision({ point: { number, verdict }, actions }: Pick<PointRowProps, 'point' | 'actions'>) {
  const isAsked = useSignal(false)
  if (verdict === 'rejected')
    return (
      <button
        type="button"
        class="press press-small"
        aria-label={`Keep point ${number} after all`}
        onClick={() => void actions.decide(number, { verdict: 'kept' })}
      >
        Keep
      </button>
    )
  if (!isAsked.value)
    return (
      <button
        type="button"
        class="press press-small"
        data-action="reject"
        aria-label={`Reject point ${number}`}
        onClick={() => (isAsked.value = true)}
      >
        Reject…
      </button>
    )
  const send = async (reason: string) => {
    if (await actions.decide(number, { verdict: 'rejected', reason })) isAsked.value = false
  }
  return <RejectForm number={number} send={send} cancel={() => (isAsked.value = false)} />
}

interface RejectFormProps {
  number: number
  send: (reason: string) => Promise<void>
  cancel: () => void
}

/** Asks why; the keyboard is in it at once, and Escape leaves it. */
function RejectForm({ number, send, cancel }: RejectFormProps) {
  const line = useRef<HTMLInputElement>(null)
  useEffect(() => line.current?.focus(), [])
  const submit = (event: SubmitEvent) => {
    event.preventDefault()
    void send(line.current?.value ?? '')
  }
  return (
    <form
      class="reject"
      onSubmit={submit}
      onKeyDown={(event) => {
        if (event.key === 'Escape') cancel()
      }}
    >
      <input
        ref={line}
        name="reason"
        required
        maxLength={300}
        placeholder="Why?"
        aria-label={`Why point ${number} is rejected`}
        autocomplete="off"
      />
      <button type="submit" class="press press-small">
        Reject
      </button>
      <button type="button" class="press press-small" onClick={cancel}>
        Cancel
      </button>
    </form>
  )
}
