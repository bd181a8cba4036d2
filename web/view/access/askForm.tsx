import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import type { Answer } from '../../connect/http.ts'
import { Panel } from '../parts/panel.tsx'

export interface AskFormProps<T> {
  id: string
  title: string
  /** On the button. */
  deed: string
  ask: (values: Record<string, string>) => Promise<Answer<T>>
  onDone: (reply: T) => void
  children: ComponentChildren
}

/** A form that asks the server, and says what it answered when that was no. */
export function AskForm<T>({ id, title, deed, ask, onDone, children }: AskFormProps<T>) {
  const error = useSignal<string | null>(null)
  const isAsking = useSignal(false)
  const submit = async (event: SubmitEvent) => {
    event.preventDefault()
    if (isAsking.value) return
    const form = event.currentTarget as HTMLFormElement
    const values = Object.fromEntries([...new FormData(form)].map(([key, value]) => [key, String(value)]))
    isAsking.value = true
    const answer = await ask(values)
    isAsking.value = false
    error.value = answer.ok ? null : answer.error
    if (!answer.ok) return
    form.reset()
    onDone(answer.reply)
  }
  return (
    <Panel id={id} title={title}>
      <form class="ask" onSubmit={submit}>
        {children}
        <button type="submit" class="press" data-action={id} aria-disabled={isAsking.value}>
          {isAsking.value ? 'Asking…' : deed}
        </button>
        <p class="ask-error" role="alert">
          {error.value}
        </p>
      </form>
    </Panel>
  )
}
