import { useSignal } from '@preact/signals'
import { seatRequests } from '../../connect/lessonRequests.ts'
import { refreshPerson } from '../../connect/person.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Confirm } from '../parts/button.tsx'
import { ScreenGround } from '../parts/ground.tsx'
import { Panel, SimStamp } from '../parts/panel.tsx'
import { address } from '../screens.ts'
import { Lamp, SafetyAlarms, SceneNumber, SceneStamp, SettingBanner } from './lessonParts.tsx'
import { OwnRecords, PointsToTake } from './ownRecords.tsx'
import { PhoneQuestion } from './phoneQuestion.tsx'
import type { PhoneProps } from './recordButton.tsx'
import { RecordButton } from './recordButton.tsx'
import { SceneExplanation } from './sceneExplanation.tsx'

/** One column: what the plant does, the button, the question, the own rows. */
export function PhoneView(props: PhoneProps) {
  const { connection, reply, again } = props
  const hold = connection.hold.value
  const lesson = hold?.scene.value?.lesson
  const isOpen = reply.state === 'open'
  return (
    <ScreenGround
      class="screen phone"
      screen="phone"
      isSimulated={hold?.view.simulated}
      isWithheld={connection.isWithheld.value}
      at={connection.knownAt.value}
      zone={hold?.view.timeZone}
    >
      <h1>
        {reply.title}
        {hold?.view.simulated && <SimStamp />}
      </h1>
      <p>
        {reply.plantName} · group <b>{reply.group.name}</b> · for another phone of it:{' '}
        <b>{reply.group.word}</b>
      </p>
      {!isOpen && <Ended />}
      {isOpen && hold && lesson && (
        <>
          <SafetyAlarms alarms={hold.alarms.value} />
          <SceneStamp scene={hold.scene.value} zone={hold.view.timeZone} />
          <SettingBanner setting={lesson.setting} />
          <Lamp lamp={lesson.steady} />
        </>
      )}
      <RecordButton {...props} />
      {isOpen && hold && lesson?.question && (
        <PhoneQuestion question={lesson.question} hold={hold} reply={reply} again={again} />
      )}
      {isOpen && hold && lesson && <PhoneFigures hold={hold} ids={lesson.numbers} />}
      <PointsToTake reply={reply} again={again} />
      <OwnRecords {...props} />
      <Leave />
    </ScreenGround>
  )
}

function Ended() {
  return (
    <p class="refused" data-ended>
      This lesson has ended. Your records and your pack stay here for a day.
    </p>
  )
}

/** The numbers of the large screen, then all others; a press explains one. */
function PhoneFigures({ hold, ids }: { hold: PlantHold; ids: string[] }) {
  const explained = useSignal<string | null>(null)
  const chosen = ids.flatMap((id) => hold.byId.get(id) ?? [])
  const rest = hold.figures.filter(({ description }) => !ids.includes(description.id))
  const line = (figure: (typeof rest)[number]) => {
    const { id, name } = figure.description
    const isOpen = explained.value === id
    return (
      <li key={id} class="row apart">
        <button
          type="button"
          class="as-link"
          aria-expanded={isOpen}
          onClick={() => (explained.value = isOpen ? null : id)}
        >
          {name}
        </button>
        <SceneNumber hold={hold} figure={figure} />
        {isOpen && <SceneExplanation ask={() => seatRequests.explain(id)} figure={id} hold={hold} />}
      </li>
    )
  }
  return (
    <Panel id="figures" title="Figures">
      <ul class="lines phone-chosen">{chosen.map(line)}</ul>
      <details class="fold">
        <summary>All figures</summary>
        <ul class="lines">{rest.map(line)}</ul>
      </details>
    </Panel>
  )
}

function Leave() {
  const leave = async () => {
    await seatRequests.leave()
    await refreshPerson()
    location.hash = address({ screen: 'phone', code: '' })
  }
  return (
    <p>
      <Confirm
        action="leave"
        word="Leave the lesson"
        question="Your group keeps its records. Leave?"
        yes="Leave"
        no="Stay"
        deed={leave}
      />
    </p>
  )
}
