import { useSignal } from '@preact/signals'
import type { NotesRequest, RunSummary } from '../../../server/wire/trial.ts'
import { may, person } from '../../connect/person.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { dateTime } from '../../format/time.ts'
import { Button } from '../parts/button.tsx'
import { Field, sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import type { RunProps } from './runActions.ts'

const VERSIONS_MS = 10_000

/** Names and notes, which may be edited; the readings may not. */
export function NotesPanel({ reply: { run }, hold, actions }: RunProps) {
  const isOpened = useSignal(false)
  const send = sent((typed) => actions.edit({ ...namesIn(typed), notes: typed('notes') }))
  return (
    <Panel id="notes" title="Names and notes">
      <form onSubmit={send}>
        <fieldset class="fields" disabled={!mayChange(run)} aria-label="Names and notes">
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
      <p class="hint">
        Notes and decisions can be changed, by who began the run and by operators once it is finished. What
        stood there before is kept. What was measured cannot be changed.
      </p>
      <details class="fold" onToggle={({ currentTarget }) => (isOpened.value = currentTarget.open)}>
        <summary>As they were saved</summary>
        {isOpened.value && <Versions run={run} plant={hold.view.id} zone={hold.view.timeZone} />}
      </details>
    </Panel>
  )
}

/** The server has the last word. */
function mayChange({ by, finishedAt }: RunSummary): boolean {
  return may('trial') && (finishedAt === null || may('amend') || person.value?.name === by)
}

/** Every version of names and notes, newest first. */
function Versions({ run, plant, zone }: { run: RunSummary; plant: string; zone: string }) {
  const { reply, error } = usePolled(() => trialRequests.notes(plant, run.id), VERSIONS_MS, [plant, run.id])
  if (error.value !== null) return <p class="hint">{error.value}</p>
  return (
    <ol class="plain">
      {reply.value?.versions.map(({ at, by, notes, ...names }) => (
        <li key={`${at} ${notes}`}>
          <span class="quiet">
            {dateTime(at, zone)}, {by}:
          </span>{' '}
          {KEYS.map((key) => names[key])
            .filter((text) => text !== '')
            .join(', ')}
          {notes !== '' && `. ${notes}`}
        </li>
      ))}
    </ol>
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
