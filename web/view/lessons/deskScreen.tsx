import { useDeed } from '../../connect/deed.ts'
import { deskRequests } from '../../connect/lessonRequests.ts'
import { usePolled } from '../../connect/poll.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import { clockTime, dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button, Confirm } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { Refused } from '../parts/refusal.tsx'
import { address } from '../screens.ts'
import { DeskFigures } from './deskFigures.tsx'
import { DeskGroups } from './deskGroups.tsx'
import { DeskQuestion } from './deskQuestion.tsx'
import type { DeskProps } from './joinPanel.tsx'
import { JoinPanel } from './joinPanel.tsx'
import { Lamp, SettingBanner } from './lessonParts.tsx'

const DESK_MS = 2000

/** One screen from which a lesson is given. */
export function DeskScreen({ hold, lesson }: { hold: PlantHold; lesson: number }) {
  const asked = usePolled(() => deskRequests.desk(lesson), DESK_MS, [lesson])
  const { error, act: send } = useDeed()
  const desk = asked.reply.value
  if (!desk) return <p class="starting">{asked.error.value ?? 'Asking…'}</p>
  const act: DeskProps['act'] = async (deed) => {
    const reply = await send(deed)
    asked.again()
    return reply !== null
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
      <Refused reason={error.value || asked.error.value} />
      <div class="desk">
        <div class="stack">
          {desk.code !== null && <JoinPanel {...props} />}
          <DeskGroups {...props} />
          <EndPanel {...props} />
        </div>
        <div class="stack">
          {desk.view && <ShownPanel {...props} />}
          <DeskQuestion {...props} />
        </div>
        {desk.view && (
          <div class="stack">
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
        <Button
          action="freeze"
          aria-pressed={isFrozen}
          onClick={() => act(deskRequests.freeze(id, !isFrozen))}
        >
          {isFrozen ? '▶ Let go on' : '‖ Freeze'}
        </Button>
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
          <Button isSmall onClick={() => act(deskRequests.arrange(id, { source: hold.view.id }))}>
            Show the plant
          </Button>
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
      <p class="buttons">
        {replays.map((one) => (
          <Button
            key={one.id}
            action="show-replay"
            onClick={() => act(deskRequests.arrange(id, { source: one.scene }))}
          >
            {one.runName ?? `From ${dateTime(one.from, timeZone)}`}
          </Button>
        ))}
      </p>
    </details>
  )
}

function EndPanel({ desk, hold, act }: DeskProps) {
  const { id, endedAt, endsAt } = desk.lesson
  const zone = hold.view.timeZone
  return (
    <Panel id="end" title="End">
      <div class="stack">
        {endedAt === null ? (
          <p>
            <Confirm
              action="end"
              word="End the lesson"
              question="Phones stop seeing figures. Records stay."
              yes="End"
              no="Go on"
              deed={() => act(deskRequests.end(id))}
            >
              It ends by itself at {clockTime(endsAt, zone)}.
            </Confirm>
          </p>
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
