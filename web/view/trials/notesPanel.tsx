import { Button } from '../parts/button.tsx'
import { sent } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { NameFields, namesIn } from './fields.tsx'
import type { RunProps } from './runProps.ts'
import { mayTry } from './trialRight.tsx'

/** Names and notes, which may be edited; the readings may not. */
export function NotesPanel({ reply: { run }, actions }: RunProps) {
  const send = sent((typed) => actions.edit({ ...namesIn(typed), notes: typed('notes') }))
  return (
    <Panel id="notes" title="Names and notes">
      <form onSubmit={send}>
        <fieldset class="fields" disabled={!mayTry()} aria-label="Names and notes">
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
