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
