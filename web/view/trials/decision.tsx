import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { TrialPoint } from '../../../server/wire/point.ts'
import type { Takes } from '../../../server/wire/trial.ts'
import type { RunActions } from './runActions.ts'
import { mayTry } from './trialRight.tsx'

export interface DecisionProps {
  takes: Takes
  take: Pick<TrialPoint, 'number' | 'verdict' | 'reason'>
  actions: RunActions
}

/** What was decided about a point or trace, and the way to decide otherwise. */
export function Decision({ takes, take: { number, verdict, reason }, actions }: DecisionProps) {
  const isAsked = useSignal(false)
  const name = `${takes === 'points' ? 'point' : 'trace'} ${number}`
  const keep = () => actions.decide({ takes, number }, { verdict: 'kept' })
  const reject = async (why: string) => {
    if (await actions.decide({ takes, number }, { verdict: 'rejected', reason: why })) isAsked.value = false
  }
  if (verdict === 'rejected')
    return (
      <>
        <span>Rejected: {reason} </span>
        {mayTry() && (
          <button
            type="button"
            class="press press-small"
            aria-label={`Keep ${name} after all`}
            onClick={() => void keep()}
          >
            Keep
          </button>
        )}
      </>
    )
  if (!mayTry()) return null
  if (isAsked.value) return <RejectForm name={name} reject={reject} cancel={() => (isAsked.value = false)} />
  return (
    <button
      type="button"
      class="press press-small"
      data-action="reject"
      aria-label={`Reject ${name}`}
      onClick={() => (isAsked.value = true)}
    >
      Reject…
    </button>
  )
}

interface RejectFormProps {
  name: string
  reject: (why: string) => Promise<void>
  cancel: () => void
}

/** Asks why; the keyboard is in it at once, and Escape leaves it. */
function RejectForm({ name, reject, cancel }: RejectFormProps) {
  const line = useRef<HTMLInputElement>(null)
  useEffect(() => line.current?.focus(), [])
  const submit = (event: SubmitEvent) => {
    event.preventDefault()
    void reject(line.current?.value ?? '')
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
        aria-label={`Why ${name} is rejected`}
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
