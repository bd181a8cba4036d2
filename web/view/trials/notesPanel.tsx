import { Panel } from '../parts/panel.tsx'
import type { RunProps } from './runProps.ts'
import { TextField } from './textField.tsx'
import { mayTry } from './trialRight.tsx'

/** Names and notes, which may be edited; the readings may not. */
export function NotesPanel({ reply: { run }, actions }: RunProps) {
  function send(event: SubmitEvent): void {
    event.preventDefault()
    const form = new FormData(event.currentTarget as HTMLFormElement)
    const text = (key: string) => String(form.get(key) ?? '')
    void actions.edit({
      name: text('name'),
      className: text('className'),
      group: text('group'),
      year: text('year'),
      notes: text('notes'),
    })
  }
  return (
    <Panel id="notes" title="Names and notes">
      <form onSubmit={send}>
        <fieldset class="fields" disabled={!mayTry()} aria-label="Names and notes">
          <p class="field field-wide">
            <label for="notes-text">Notes</label>
            <textarea id="notes-text" name="notes" rows={4} maxLength={4000} defaultValue={run.notes} />
          </p>
          <TextField id="notes-name" name="name" label="Name of the run" value={run.name} isRequired />
          <TextField id="notes-class" name="className" label="Class" value={run.className} />
          <TextField id="notes-group" name="group" label="Group" value={run.group} />
          <TextField id="notes-year" name="year" label="Year" value={run.year} />
          <button type="submit" class="press" aria-disabled={actions.isBusy.value}>
            Save names and notes
          </button>
        </fieldset>
      </form>
      <p class="hint">Notes and decisions can be changed. What was measured cannot.</p>
    </Panel>
  )
}
