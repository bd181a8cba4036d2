import type { NotesRequest } from '../../../server/wire/trial.ts'
import { Field } from '../parts/fields.tsx'

type Names = Required<Pick<NotesRequest, 'name' | 'className' | 'group' | 'year'>>

const LABELS: Record<keyof Names, string> = {
  name: 'Name of the run',
  className: 'Class',
  group: 'Group',
  year: 'Year',
}
const KEYS = Object.keys(LABELS) as (keyof Names)[]

/** Name, class, group and year of a run; `id` stands before each of theirs. */
export function NameFields({ id, names }: { id: string; names: Partial<Names> }) {
  return (
    <>
      {KEYS.map((key) => (
        <Field
          key={key}
          id={`${id}-${key}`}
          name={key}
          label={LABELS[key]}
          defaultValue={names[key]}
          maxLength={80}
          required={key === 'name'}
        />
      ))}
    </>
  )
}

/** What was written in them. */
export function namesIn(typed: (name: string) => string): Names {
  return Object.fromEntries(KEYS.map((key) => [key, typed(key)])) as Names
}
