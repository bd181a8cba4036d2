import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { withInterval } from '../../../../server/wire/amounts.ts'
import type { TraceAmount, TraceView } from '../../../../server/wire/trace.ts'
import type { TraceRunReply } from '../../../../server/wire/trial.ts'
import { printUnit } from '../../../../server/wire/units.ts'
import { clockTime } from '../../../format/time.ts'
import { counted } from '../../../format/words.ts'
import { Panel } from '../../parts/panel.tsx'
import type { RunActions } from '../runActions.ts'
import { plain } from './traceResultPanel.tsx'

/** Every trace, newest first, with its numbers and what was decided about it. */
export function TracesPanel({
  reply,
  zone,
  actions,
}: {
  reply: TraceRunReply
  zone: string
  actions: RunActions
}) {
  const { traces } = reply
  return (
    <Panel
      id="traces"
      title="Each trace"
      aside={<span class="count">{counted(traces.length, 'trace')}</span>}
    >
      {traces.length === 0 && <p class="quiet">None yet.</p>}
      <ol class="trace-list">
        {[...traces].reverse().map((trace) => (
          <Trace key={trace.number} trace={trace} zone={zone} actions={actions} />
        ))}
      </ol>
    </Panel>
  )
}

function Trace({ trace, zone, actions }: { trace: TraceView; zone: string; actions: RunActions }) {
  const { number, verdict, result, endingWords, readings, setting, reason } = trace
  const isRejected = verdict === 'rejected'
  return (
    <li
      class={isRejected ? 'trace-row point-rejected' : 'trace-row'}
      data-trace={number}
      data-verdict={verdict}
      data-ending={trace.ending}
    >
      <p class="trace-head">
        <b>Trace {number}</b> <span class="number">{clockTime(trace.triggeredAt, zone)}</span>
        <span>
          {endingWords}, {readings} readings{setting && `, ${setting}`}
        </span>
        <Decision trace={trace} actions={actions} />
      </p>
      {isRejected && <p>Rejected: {reason}</p>}
      {result && !result.isReduced && <p class="quiet">{result.lacking}</p>}
      {result?.isReduced && (
        <>
          <dl class="trace-amounts">
            {result.amounts.map((one) => (
              <Amount key={one.id} one={one} />
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

function Amount({ one }: { one: TraceAmount }) {
  const { value, u95, words } = one
  const shown =
    value === null
      ? '–'
      : u95 === null || u95 === 0
        ? plain(one, value)
        : `${withInterval(one, value, u95)}\u00a0${printUnit(one.viewUnit)}`
  return (
    <div data-amount={one.id}>
      <dt>{one.name}</dt>
      <dd>
        <b class="number nowrap">{shown}</b> {words}
      </dd>
    </div>
  )
}

function Decision({
  trace: { number, verdict, ending },
  actions,
}: {
  trace: TraceView
  actions: RunActions
}) {
  const isAsked = useSignal(false)
  const line = useRef<HTMLInputElement>(null)
  useEffect(() => line.current?.focus(), [isAsked.value])
  if (ending === 'recording') return null
  if (verdict === 'rejected')
    return (
      <button
        type="button"
        class="press press-small"
        aria-label={`Keep trace ${number} after all`}
        onClick={() => void actions.decideTrace(number, { verdict: 'kept' })}
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
        aria-label={`Reject trace ${number}`}
        onClick={() => (isAsked.value = true)}
      >
        Reject…
      </button>
    )
  const submit = async (event: SubmitEvent) => {
    event.preventDefault()
    const reason = line.current?.value ?? ''
    if (await actions.decideTrace(number, { verdict: 'rejected', reason })) isAsked.value = false
  }
  return (
    <form class="reject" onSubmit={(event) => void submit(event)}>
      <input
        ref={line}
        name="reason"
        required
        maxLength={300}
        placeholder="Why?"
        aria-label={`Why trace ${number} is rejected`}
        autocomplete="off"
      />
      <button type="submit" class="press press-small">
        Reject
      </button>
      <button type="button" class="press press-small" onClick={() => (isAsked.value = false)}>
        Cancel
      </button>
    </form>
  )
}
