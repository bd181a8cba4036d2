import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { Standing } from '../../../server/wire/point.ts'
import type { Takes } from '../../../server/wire/trial.ts'
import { may } from '../../connect/person.ts'
import { dateTime } from '../../format/time.ts'
import { Button } from '../parts/button.tsx'
import type { RunActions } from './runActions.ts'

export interface DecisionProps {
  takes: Takes
  take: Standing & { number: number }
  zone: string
  actions: RunActions
}

/** What was decided about a point or trace, why, by whom and when, and the way to decide otherwise. */
export function Decision(props: DecisionProps) {
  const { verdict, reason, decided } = props.take
  return (
    <>
      {decided && (
        <span class="decided">
          {verdict === 'rejected' ? `Rejected: ${reason}` : 'Kept after all'}{' '}
          <span class="quiet">
            ({decided.by}, {dateTime(decided.at, props.zone)})
          </span>{' '}
        </span>
      )}
      {may('trial') && <Deciding {...props} />}
    </>
  )
}

function Deciding({ takes, take: { number, verdict }, actions }: DecisionProps) {
  const isAsked = useSignal(false)
  const name = `${takes === 'points' ? 'point' : 'trace'} ${number}`
  const isRejected = verdict === 'rejected'
  const keep = () => actions.decide({ takes, number }, { verdict: 'kept' })
  const reject = async (why: string) => {
    if (await actions.decide({ takes, number }, { verdict: 'rejected', reason: why })) isAsked.value = false
  }
  if (isAsked.value && !isRejected)
    return <RejectForm name={name} reject={reject} cancel={() => (isAsked.value = false)} />
  return (
    <Button
      isSmall
      action={isRejected ? 'keep' : 'reject'}
      aria-label={isRejected ? `Keep ${name} after all` : `Reject ${name}`}
      onClick={() => {
        if (isRejected) void keep()
        else isAsked.value = true
      }}
    >
      {isRejected ? 'Keep' : 'Reject…'}
    </Button>
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
      <label>
        Why
        <input
          ref={line}
          name="reason"
          required
          maxLength={300}
          aria-label={`Why ${name} is rejected`}
          autocomplete="off"
        />
      </label>
      <Button type="submit" isSmall>
        Reject
      </Button>
      <Button isSmall onClick={cancel}>
        Cancel
      </Button>
    </form>
  )
}
