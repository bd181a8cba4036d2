import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import type { Answer } from '../../connect/http.ts'
import { Button } from '../parts/button.tsx'
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
        <Button type="submit" action={id} aria-disabled={isAsking.value}>
          {isAsking.value ? 'Asking…' : deed}
        </Button>
        <p class="ask-error" role="alert">
          {error.value}
        </p>
      </form>
    </Panel>
  )
}

export interface FieldProps {
  label: string
  name: string
  /** What browsers and password safes fill in: "username", "current-password", "new-password", "off". */
  autoComplete: string
  type?: 'text' | 'password'
  hint?: string
}

/** A labelled input of a form, required. */
export function Field({ label, name, autoComplete, type = 'text', hint }: FieldProps) {
  const id = useId()
  const given = {
    ...({ id, name, autoComplete, autoCapitalize: 'none', spellcheck: false, required: true } as const),
    ...(hint ? { 'aria-describedby': `${id}-hint` } : {}),
  }
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {type === 'password' ? <input type="password" {...given} /> : <input type="text" {...given} />}
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  )
}

export function NewPasswordField() {
  return (
    <Field
      label="New password"
      name="password"
      type="password"
      autoComplete="new-password"
      hint="At least 12 characters; a short sentence is easy to keep in mind."
    />
  )
}
