interface ChoiceProps {
  id?: string
  'aria-label'?: string
  'data-control'?: string
  value: string | number
  options: readonly { id: string | number; name: string }[]
  choose: (id: string) => void
}

/** One of several, picked from a list. */
export function Choice({ value, options, choose, ...attributes }: ChoiceProps) {
  return (
    <select {...attributes} value={value} onChange={({ currentTarget }) => choose(currentTarget.value)}>
      {options.map(({ id, name }) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
    </select>
  )
}
