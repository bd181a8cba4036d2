import { useSignal } from '@preact/signals'
import type { PointTrialView, TrialView } from '../../../server/wire/trial.ts'
import { useDeed } from '../../connect/deed.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { Button } from '../parts/button.tsx'
import { ChoiceField, sent } from '../parts/fields.tsx'
import { Refused } from '../parts/refusal.tsx'
import { address } from '../screens.ts'
import { NameFields, namesIn } from './notesPanel.tsx'

/** Names a run and begins it. */
export function StartForm({ trial, plant }: { trial: TrialView; plant: string }) {
  const { error, act } = useDeed()
  const isSending = useSignal(false)

  const send = sent(async (typed) => {
    const figure = typed('typed')
    isSending.value = true
    const wish = { trial: trial.id, ...namesIn(typed), ...(figure !== '' && { typed: figure }) }
    const started = await act(trialRequests.start(plant, wish))
    isSending.value = false
    if (started) location.hash = address({ screen: 'run', plant, run: started.run })
  })

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
      <form class="fields" onSubmit={send}>
        <NameFields id={trial.id} names={{ year: String(new Date().getFullYear()) }} />
        {trial.takes === 'points' && <TypedChoice trial={trial} />}
        <Button type="submit" action="start" aria-disabled={isSending.value}>
          {isSending.value ? 'Starting…' : 'Start'}
        </Button>
        <Refused reason={error.value} />
      </form>
    </details>
  )
}

/** Where an instrument is missing its value may be typed at each point, in place of the estimate. */
function TypedChoice({ trial: { id, typeable, typed } }: { trial: PointTrialView }) {
  if (typed.length > 0)
    return (
      <p class="hint">To be typed at each point: {typed.map(({ name }) => name.toLowerCase()).join(', ')}.</p>
    )
  if (typeable.length === 0) return null
  const figures = typeable.map(({ figure, name }) => ({ id: figure, name }))
  return (
    <ChoiceField
      id={`${id}-typed`}
      name="typed"
      label="To be typed at each point"
      options={[{ id: '', name: 'Nothing, estimates will do' }, ...figures]}
    />
  )
}
