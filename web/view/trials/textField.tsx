export interface TextFieldProps {
  id: string
  name: string
  label: string
  value?: string
  isRequired?: boolean
  /** Numbers get the keys for numbers on a phone. */
  isNumber?: boolean
}

/** A labelled line to write on. */
export function TextField({
  id,
  name,
  label,
  value = '',
  isRequired = false,
  isNumber = false,
}: TextFieldProps) {
  return (
    <p class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        defaultValue={value}
        required={isRequired}
        maxLength={80}
        autocomplete="off"
        inputMode={isNumber ? 'decimal' : 'text'}
      />
    </p>
  )
}
