import { deskRequests } from '../../connect/lessonRequests.ts'
import { usePolled } from '../../connect/poll.ts'
import { dateTime } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { AskForm } from '../access/askForm.tsx'
import { Field } from '../parts/fields.tsx'
import { Panel } from '../parts/panel.tsx'
import { address } from '../screens.ts'

const LIST_MS = 10_000

/** Lessons of a plant, and how to open one. */
export function LessonsScreen({ hold }: { hold: PlantHold }) {
  const { id, timeZone } = hold.view
  const asked = usePolled(() => deskRequests.list(id), LIST_MS, [id])
  const lessons = asked.reply.value ?? []
  return (
    <>
      <h1>Lessons</h1>
      <AskForm
        id="open-lesson"
        title="Open a lesson"
        deed="Open"
        ask={({ title = '' }) => deskRequests.open(id, title)}
        onDone={({ lesson }) => {
          location.hash = address({ screen: 'desk', plant: id, lesson })
        }}
      >
        <Field id="lesson-title" label="Title" name="title" required maxLength={80} />
        <p class="hint">
          Students join with a code and watch from their phones, read only. A lesson ends by hand or after 12
          hours; what its groups marked stays.
        </p>
      </AskForm>
      <Panel id="lessons" title="Lessons so far">
        {asked.error.value && <p class="refused">{asked.error.value}</p>}
        {lessons.length === 0 && <p class="quiet">None yet.</p>}
        <ul class="lines lesson-list">
          {lessons.map(({ id: number, title, openedAt, endedAt, groups, records }) => (
            <li key={number}>
              <a href={address({ screen: 'desk', plant: id, lesson: number })}>
                {number}: {title}
              </a>{' '}
              {endedAt === null ? <b>● open</b> : 'ended'} · {dateTime(openedAt, timeZone)} ·{' '}
              {counted(groups, 'group')}, {counted(records, 'record')} ·{' '}
              <a href={deskRequests.packAddress(number)} download>
                Download
              </a>
            </li>
          ))}
        </ul>
      </Panel>
    </>
  )
}
