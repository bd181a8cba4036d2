import type { InputHTMLAttributes } from 'preact'
import { useId } from 'preact/hooks'

export type FieldProps = InputHTMLAttributes & { id?: string; label: string; hint?: string }

/** A labelled line to write on. */
export function Field({ id, label, hint, ...input }: FieldProps) {
  const own = useId()
  const place = id ?? own
  const described = hint ? { 'aria-describedby': `${place}-hint` } : {}
  return (
    <div class="field">
      <label for={place}>{label}</label>
      <input id={place} autocomplete="off" {...described} {...input} />
      {hint && (
        <p class="hint" id={`${place}-hint`}>
          {hint}
        </p>
      )}
    </div>
  )
}

/** For a form that is sent: hands on how to read what was typed, by name; the page stays. */
export function sent(take: (typed: (name: string) => string, form: HTMLFormElement) => unknown) {
  return (event: SubmitEvent) => {
    event.preventDefault()
    const element = event.currentTarget as HTMLFormElement
    const form = new FormData(element)
    void take((name) => String(form.get(name) ?? '').trim(), element)
  }
}

interface ChoiceProps<Id extends string | number> {
  id?: string
  /** Under which a form sends it. */
  name?: string
  'aria-label'?: string
  'data-control'?: string
  value?: Id
  options: readonly { id: Id; name: string }[]
  choose?: (id: Id) => void
}

/** One of several, picked from a list. */
export function Choice<Id extends string | number>({
  value,
  options,
  choose,
  ...attributes
}: ChoiceProps<Id>) {
  const pick = (text: string) => {
    const picked = options.find(({ id }) => String(id) === text)
    if (picked) choose?.(picked.id)
  }
  return (
    <select {...attributes} value={value} onChange={({ currentTarget }) => pick(currentTarget.value)}>
      {options.map(({ id, name }) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
    </select>
  )
}

/** The same with its label. */
export function ChoiceField<Id extends string | number>({
  id,
  label,
  ...choice
}: ChoiceProps<Id> & { id: string; label: string }) {
  return (
    <p class="field">
      <label for={id}>{label}</label>
      <Choice id={id} {...choice} />
    </p>
  )
}
