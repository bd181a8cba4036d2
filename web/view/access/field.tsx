import { useId } from 'preact/hooks'

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
