import { useEffect } from 'preact/hooks'
import type { Connection } from '../../connect/connection.ts'
import { seatRequests } from '../../connect/lessonRequests.ts'
import { person, refreshPerson } from '../../connect/person.ts'
import { usePolled } from '../../connect/poll.ts'
import { AskForm } from '../access/askForm.tsx'
import { Field } from '../parts/fields.tsx'
import { PhoneView } from './phoneView.tsx'

const VIEW_MS = 15_000

/** A lesson on a phone: joining it, and taking part in it. */
export function PhoneScreen({ connection, code }: { connection: Connection; code: string }) {
  if (!person.value) return <p class="starting">Asking…</p>
  const isSeated = person.value.actions.includes('attend')
  return isSeated ? (
    <Seated connection={connection} />
  ) : (
    <JoinForm code={code} onJoined={() => connection.reopen()} />
  )
}

function Seated({ connection }: { connection: Connection }) {
  const asked = usePolled(seatRequests.view, VIEW_MS, [])
  const reply = asked.reply.value
  const scene = reply?.state === 'open' ? reply.scene : null
  const revision = connection.hold.value?.scene.value?.lesson?.revision
  useEffect(() => {
    if (scene) connection.show(scene)
    else connection.leave()
  }, [scene])
  // Something beside the figures changed: a question, a group, a point to take.
  useEffect(() => {
    if (revision !== undefined) asked.again()
  }, [revision])
  if (!reply) return <p class="starting">{asked.error.value ?? 'Asking…'}</p>
  return (
    <PhoneView
      connection={connection}
      reply={reply}
      again={asked.again}
      key={`${reply.lesson} ${reply.group.number}`}
    />
  )
}

/** Code and group: all that a phone has to say. */
function JoinForm({ code, onJoined }: { code: string; onJoined: () => void }) {
  return (
    <div class="screen access" data-screen="join">
      <h1>Join a lesson</h1>
      <AskForm
        id="join"
        title="From the screen in the room"
        deed="Join"
        ask={({ code: typed = '', group = '', word = '' }) =>
          seatRequests.join({ code: typed, group, ...(word === '' ? {} : { word }) })
        }
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
        <Field
          id="join-word"
          label="Word of the group, if it is there already"
          hint="Its first phone shows it."
          name="word"
          autocapitalize="none"
          spellcheck={false}
          maxLength={40}
        />
      </AskForm>
      <p class="hint">
        No account and no personal data: choose a group name, not your own. Several phones can join one group.
        Until the lesson ends this browser shows the lesson and nothing else; “Leave the lesson” gives it
        back.
      </p>
    </div>
  )
}
