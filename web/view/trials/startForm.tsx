import { useSignal } from '@preact/signals'
import type { TrialView } from '../../../server/wire/trial.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { trialsAddress } from '../route.ts'
import { TextField } from './textField.tsx'

/** Names a run and begins it. */
export function StartForm({ trial, plant }: { trial: TrialView; plant: string }) {
  const error = useSignal('')
  const isSending = useSignal(false)

  async function send(event: SubmitEvent): Promise<void> {
    event.preventDefault()
    const form = new FormData(event.currentTarget as HTMLFormElement)
    const text = (key: string) => String(form.get(key) ?? '').trim()
    isSending.value = true
    const answer = await trialRequests.start(plant, {
      trial: trial.id,
      name: text('name'),
      className: text('className'),
      group: text('group'),
      year: text('year'),
    })
    isSending.value = false
    if (answer.ok) location.hash = trialsAddress(plant, answer.reply.run)
    else error.value = answer.error
  }

  return (
    <details class="fold start">
      <summary>
        <b>Start a run</b>
      </summary>
      {trial.cautions.map(({ signal, text }) => (
        <p class="trial-caution" key={text}>
          <b>{signal}</b> {text}
        </p>
      ))}
      <form class="fields" onSubmit={(event) => void send(event)}>
        <TextField id={`${trial.id}-name`} name="name" label="Name of the run" isRequired />
        <TextField id={`${trial.id}-class`} name="className" label="Class" />
        <TextField id={`${trial.id}-group`} name="group" label="Group" />
        <TextField
          id={`${trial.id}-year`}
          name="year"
          label="Year"
          value={String(new Date().getFullYear())}
        />
        <button type="submit" class="press" data-action="start" aria-disabled={isSending.value}>
          {isSending.value ? 'Starting…' : 'Start'}
        </button>
        {error.value && (
          <p class="refused" role="alert">
            {error.value}
          </p>
        )}
      </form>
    </details>
  )
}
