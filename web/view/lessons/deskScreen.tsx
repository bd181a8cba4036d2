import { useSignal } from '@preact/signals'
import { deskRequests } from '../../connect/lessonRequests.ts'
import { usePolled } from '../../connect/poll.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import { clockTime, dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Panel } from '../parts/panel.tsx'
import { address } from '../screens.ts'
import { DeskFigures } from './deskFigures.tsx'
import { DeskGroups } from './deskGroups.tsx'
import type { DeskProps } from './deskProps.ts'
import { DeskQuestion } from './deskQuestion.tsx'
import { JoinPanel } from './joinPanel.tsx'
import { Lamp, SettingBanner } from './lessonParts.tsx'

const DESK_MS = 2000

/** One screen from which a lesson is given. */
export function DeskScreen({ hold, lesson }: { hold: PlantHold; lesson: number }) {
  const asked = usePolled(() => deskRequests.desk(lesson), DESK_MS, [lesson])
  const error = useSignal('')
  const desk = asked.reply.value
  if (!desk) return <p class="starting">{asked.error.value ?? 'Asking…'}</p>
  const act: DeskProps['act'] = async (deed) => {
    const answer = await deed
    error.value = answer.ok ? '' : answer.error
    asked.again()
    return answer.ok
  }
  const props = { desk, hold, act }
  const { title, endedAt } = desk.lesson
  return (
    <>
      <div class="screen-title">
        <h1>
          {title}
          {endedAt !== null && ' (ended)'}
        </h1>
        <a href={address({ screen: 'lessonProjector', plant: hold.view.id, lesson })} data-link="projector">
          Projector view of this lesson
        </a>
      </div>
      {(error.value || asked.error.value) && (
        <p class="refused" role="alert">
          {error.value || asked.error.value}
        </p>
      )}
      <div class="desk">
        <div class="desk-column">
          {desk.code !== null && <JoinPanel {...props} />}
          <DeskGroups {...props} />
          <EndPanel {...props} />
        </div>
        <div class="desk-column">
          {desk.view && <ShownPanel {...props} />}
          <DeskQuestion {...props} />
        </div>
        {desk.view && (
          <div class="desk-column">
            <DeskFigures {...props} />
          </div>
        )}
      </div>
    </>
  )
}

/** What the class sees, and whether it is held still. */
function ShownPanel({ desk, hold, act }: DeskProps) {
  const view = desk.view!
  const id = desk.lesson.id
  const isFrozen = view.frozenAt !== null
  const isReplay = desk.source !== hold.view.id
  return (
    <Panel id="shown" title="The class sees">
      <SettingBanner setting={view.setting} />
      <Lamp lamp={view.steady} />
      <p>
        <button
          type="button"
          class="press"
          data-action="freeze"
          aria-pressed={isFrozen}
          onClick={() => void act(deskRequests.freeze(id, !isFrozen))}
        >
          {isFrozen ? '▶ Let go on' : '‖ Freeze'}
        </button>
      </p>
      <p class="hint">
        {isFrozen &&
          `Frozen at ${clockTime(view.frozenAt!, hold.view.timeZone)}. Records hold the frozen figures and say so. `}
        High-priority alarms come through all the same.
      </p>
      {isReplay ? (
        <p>
          A recording is shown.{' '}
          <a href={address({ screen: 'replay', replay: Number(desk.source.split(':')[1]) })}>Steer it</a>{' '}
          <button
            type="button"
            class="press press-small"
            onClick={() => void act(deskRequests.arrange(id, { source: hold.view.id }))}
          >
            Show the plant
          </button>
        </p>
      ) : (
        <ReplayChoice id={id} act={act} hold={hold} />
      )}
    </Panel>
  )
}

const REPLAYS_MS = 5000

/** Replays of the plant that were started, each to be shown to the class. */
function ReplayChoice({ id, act, hold }: Pick<DeskProps, 'act' | 'hold'> & { id: number }) {
  const { id: plant, timeZone } = hold.view
  const asked = usePolled(() => replayRequests.list(plant), REPLAYS_MS, [plant])
  const replays = asked.reply.value?.replays ?? []
  return (
    <details class="fold">
      <summary>Show a recording instead</summary>
      {replays.length === 0 && (
        <p class="quiet">
          No replay was started. Start one on the{' '}
          <a href={address({ screen: 'plant', plant })}>page of the plant</a> or of a saved run, then come
          back.
        </p>
      )}
      <p class="replay-starts">
        {replays.map((one) => (
          <button
            key={one.id}
            type="button"
            class="press"
            data-action="show-replay"
            onClick={() => void act(deskRequests.arrange(id, { source: one.scene }))}
          >
            {one.runName ?? `From ${dateTime(one.from, timeZone)}`}
          </button>
        ))}
      </p>
    </details>
  )
}

function EndLesson({ lesson, act, until }: { lesson: number; act: DeskProps['act']; until: string }) {
  const isSure = useSignal(false)
  if (!isSure.value)
    return (
      <p>
        <button type="button" class="press" data-action="end" onClick={() => (isSure.value = true)}>
          End the lesson
        </button>{' '}
        It ends by itself at {until}.
      </p>
    )
  return (
    <p>
      Phones stop seeing figures. Records stay.{' '}
      <button
        type="button"
        class="press"
        data-action="end-really"
        onClick={() => void act(deskRequests.end(lesson))}
      >
        End
      </button>{' '}
      <button type="button" class="press" onClick={() => (isSure.value = false)}>
        Go on
      </button>
    </p>
  )
}

function EndPanel({ desk, hold, act }: DeskProps) {
  const { id, endedAt, endsAt } = desk.lesson
  const zone = hold.view.timeZone
  return (
    <Panel id="end" title="End">
      <div class="desk-end">
        {endedAt === null ? (
          <EndLesson lesson={id} act={act} until={clockTime(endsAt, zone)} />
        ) : (
          <p>Ended {dateTime(endedAt, zone)}.</p>
        )}
        <p>
          <a class="press" href={deskRequests.packAddress(id)} download data-action="pack">
            Download all groups
          </a>
        </p>
      </div>
    </Panel>
  )
}
