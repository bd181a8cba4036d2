import type { NotesRequest } from '../../../server/wire/trial.ts'
import { may } from '../../connect/person.ts'
import { Button } from '../parts/button.tsx'
import { Field, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import type { RunProps } from './runActions.ts'

/** Names and notes, which may be edited; the readings may not. */
export function NotesPanel({ reply: { run }, actions }: RunProps) {
  const send = sent((typed) => actions.edit({ ...namesIn(typed), notes: typed('notes') }))
  return (
    <Panel id="notes" title="Names and notes">
      <form onSubmit={send}>
        <fieldset class="fields" disabled={!may('trial')} aria-label="Names and notes">
          <p class="field field-wide">
            <label for="notes-text">Notes</label>
            <textarea id="notes-text" name="notes" rows={4} maxLength={4000} defaultValue={run.notes} />
          </p>
          <NameFields id="notes" names={run} />
          <Button type="submit" aria-disabled={actions.isBusy.value}>
            Save names and notes
          </Button>
        </fieldset>
      </form>
      <p class="hint">Notes and decisions can be changed. What was measured cannot.</p>
    </Panel>
  )
}

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
