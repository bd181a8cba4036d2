import type { NotesRequest } from '../../../server/wire/trial.ts'

export interface TextFieldProps {
  id: string
  name: string
  label: string
  value?: string | undefined
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

type Names = Required<Pick<NotesRequest, 'name' | 'className' | 'group' | 'year'>>

/** Name, class, group and year of a run; `id` stands before each of theirs. */
export function NameFields({ id, names }: { id: string; names: Partial<Names> }) {
  return (
    <>
      <TextField id={`${id}-name`} name="name" label="Name of the run" value={names.name} isRequired />
      <TextField id={`${id}-class`} name="className" label="Class" value={names.className} />
      <TextField id={`${id}-group`} name="group" label="Group" value={names.group} />
      <TextField id={`${id}-year`} name="year" label="Year" value={names.year} />
    </>
  )
}

/** What was written in them. */
export function namesIn(form: FormData): Names {
  return {
    name: textIn(form, 'name'),
    className: textIn(form, 'className'),
    group: textIn(form, 'group'),
    year: textIn(form, 'year'),
  }
}

export function textIn(form: FormData, name: string): string {
  return String(form.get(name) ?? '').trim()
}
