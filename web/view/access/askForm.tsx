import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useDeed } from '../../connect/deed.ts'
import type { Answer } from '../../connect/http.ts'
import { Button } from '../parts/button.tsx'
import { Field, type FieldProps } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { Refused } from '../parts/refusal.tsx'

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
  const { error, act } = useDeed()
  const isAsking = useSignal(false)
  const submit = async (event: SubmitEvent) => {
    event.preventDefault()
    if (isAsking.value) return
    const form = event.currentTarget as HTMLFormElement
    const values = Object.fromEntries([...new FormData(form)].map(([key, value]) => [key, String(value)]))
    isAsking.value = true
    const reply = await act(ask(values))
    isAsking.value = false
    if (reply === null) return
    form.reset()
    onDone(reply)
  }
  return (
    <Panel id={id} title={title}>
      <form class="stack" onSubmit={submit}>
        {children}
        <Button type="submit" action={id} aria-disabled={isAsking.value}>
          {isAsking.value ? 'Asking…' : deed}
        </Button>
        <Refused reason={error.value} />
      </form>
    </Panel>
  )
}

/** The name of a user, or a code: nothing that a phone should correct. */
export function NameField(field: FieldProps) {
  return <Field autocapitalize="none" spellcheck={false} required {...field} />
}

export function NewPasswordField() {
  return (
    <NameField
      label="New password"
      name="password"
      type="password"
      autocomplete="new-password"
      hint="At least 12 characters; a short sentence is easy to keep in mind."
    />
  )
}
