import { seatRequests } from '../../connect/lessonRequests.ts'
import { refreshPerson } from '../../connect/person.ts'
import { AskForm } from '../access/askForm.tsx'
import { Field } from '../parts/fields.tsx'

/** Code and group: all that a phone has to say. */
export function JoinForm({ code, onJoined }: { code: string; onJoined: () => void }) {
  return (
    <div class="screen access" data-screen="join">
      <h1>Join a lesson</h1>
      <AskForm
        id="join"
        title="From the screen in the room"
        deed="Join"
        ask={({ code: typed = '', group = '' }) => seatRequests.join({ code: typed, group })}
        onDone={() => void refreshPerson().then(onJoined)}
      >
        <Field
          id="join-code"
          label="Code"
          name="code"
          defaultValue={code}
          autocapitalize="none"
          spellcheck={false}
          required
          maxLength={40}
        />
        <Field id="join-group" label="Name of your group" name="group" required maxLength={30} />
      </AskForm>
      <p class="hint">
        No account and no personal data: choose a group name, not your own. Several phones can join one group.
        Until the lesson ends this browser shows the lesson and nothing else; “Leave the lesson” gives it
        back.
      </p>
    </div>
  )
}
