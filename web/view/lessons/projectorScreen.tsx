import { useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { DeskReply, LessonView } from '../../../server/wire/lesson.ts'
import { settingText } from '../../../server/wire/setting.ts'
import type { Connection } from '../../connect/connection.ts'
import { http } from '../../connect/http.ts'
import { deskRequests } from '../../connect/lessonRequests.ts'
import { usePolled } from '../../connect/poll.ts'
import { stateWords } from '../../format/words.ts'
import { figureOf } from '../../hold/pathPower.ts'
import type { FigureHold, PlantHold } from '../../hold/plantHold.ts'
import { pathLayout } from '../../plot/pathBands.ts'
import { Banner } from '../parts/banner.tsx'
import { Button } from '../parts/button.tsx'
import { dangerNow, OwnStrip } from '../parts/dangerStrip.tsx'
import { Choice } from '../parts/fields.tsx'
import { figureText, QualityMark } from '../parts/figureNumber.tsx'
import { LastKnownMark, ScreenGround } from '../parts/ground.tsx'
import { SimStamp } from '../parts/panel.tsx'
import { StateShape } from '../parts/shapes.tsx'
import { JoinCode } from './joinPanel.tsx'
import { Lamp, liveLamp, SafetyAlarms, SceneNumber, SceneStamp, SettingBanner } from './lessonParts.tsx'
import { type Collected, ProjectorPlot, useRun } from './projectorPlot.tsx'
import { RevealStrip } from './revealStrip.tsx'
import { SceneExplanation } from './sceneExplanation.tsx'
import { useStayAwake } from './stayAwake.ts'

const DESK_MS = 3000
const MOST_NUMBERS = 6

interface ProjectorProps {
  connection: Connection
  plant: string
  /** A lesson; without one it is the plant itself. */
  lesson?: number | undefined
}

/** For a room of people: few numbers, large, and nothing that has to be scrolled. */
export function ProjectorScreen({ connection, plant, lesson }: ProjectorProps) {
  const room = useSignal<'light' | 'dark'>(
    localStorage.getItem('headrace-room') === 'dark' ? 'dark' : 'light',
  )
  const hold = connection.hold.value
  const notice = connection.notice.value
  useStayAwake()
  const desk = useDesk(lesson)
  const toggle = () => {
    room.value = room.value === 'dark' ? 'light' : 'dark'
    localStorage.setItem('headrace-room', room.value)
  }
  return (
    <ScreenGround
      as="main"
      class="projector"
      screen="projector"
      room={room.value}
      isWithheld={connection.isWithheld.value}
      at={connection.knownAt.value}
      zone={hold?.view.timeZone}
    >
      {hold && <OwnStrip hold={hold} connection={connection} />}
      {notice && <Banner kind={notice.kind}>{notice.text}</Banner>}
      {hold ? (
        <Shown
          hold={hold}
          desk={desk}
          plant={plant}
          lesson={lesson}
          connection={connection}
          room={room.value}
        />
      ) : (
        <p class="starting">Reading…</p>
      )}
      <footer class="projector-foot">
        <span>
          <b>NOTICE</b> This watches and records. It does not protect people or machines.
        </span>
        <Button isSmall action="room" onClick={toggle}>
          {room.value === 'dark' ? 'Light room' : 'Dark room'}
        </Button>
      </footer>
    </ScreenGround>
  )
}

function useDesk(lesson: number | undefined): DeskReply | null {
  const asked = usePolled(async () => (lesson === undefined ? NO_DESK : deskRequests.desk(lesson)), DESK_MS, [
    lesson,
  ])
  return asked.reply.value
}

const NO_DESK = { ok: false, reached: true, error: '' } as const

interface ShownProps extends ProjectorProps {
  hold: PlantHold
  desk: DeskReply | null
  /** The chart reads its colours once. */
  room: string
}

function Shown({ hold, desk, plant, lesson, connection, room }: ShownProps) {
  const view = hold.scene.value?.lesson
  const zone = hold.view.timeZone
  const ids = (view?.numbers.length ? view.numbers : hold.view.keyFigures).slice(0, MOST_NUMBERS)
  const run = useRun(plant, connection.joins.value)
  const collected = useRef<Collected>(new Map()).current
  const state = hold.state.value
  const lamp = lampOf(run, hold)
  return (
    <>
      <header class="row projector-head">
        <h1>
          {view?.title ?? hold.view.name}
          {hold.view.simulated && <SimStamp />}
        </h1>
        <p class="projector-state">
          <StateShape state={state.state} />
          <LastKnownMark />
          <b>{stateWords[state.state]}</b>
        </p>
        <SettingBanner setting={view?.setting ?? settingNow(hold)} />
        {lamp && <Lamp lamp={lamp} />}
      </header>
      {!dangerNow(hold) && <SafetyAlarms alarms={hold.alarms.value} />}
      <SceneStamp scene={hold.scene.value} zone={zone} />
      <ul class={`giant-numbers giant-${ids.length}`}>
        {ids
          .flatMap((id) => hold.byId.get(id) ?? [])
          .map((figure) => (
            <GiantNumber key={figure.description.id} figure={figure} hold={hold} />
          ))}
      </ul>
      <div class="projector-lower">
        <Path hold={hold} />
        <div class="projector-plot">
          <ProjectorPlot
            key={room}
            hold={hold}
            connection={connection}
            run={run}
            ids={ids}
            collected={collected}
          />
        </div>
        <SidePane hold={hold} desk={desk} lesson={lesson} plant={plant} view={view} />
      </div>
    </>
  )
}

/** A point that was just stored, else whether the plant is steady. */
function lampOf(run: ReturnType<typeof useRun>, hold: PlantHold) {
  const view = hold.scene.value?.lesson
  const guidance = run?.takes === 'points' ? run.guidance : null
  return guidance?.state === 'captured' && !view?.frozenAt
    ? { state: 'captured' as const, sentence: `Point ${guidance.point ?? ''} is stored.` }
    : (view?.steady ?? liveLamp(hold))
}

function settingNow({ figures }: PlantHold): string {
  return settingText(figures.map(({ description: { id }, value }) => ({ id, value: value.value.value })))
}

function GiantNumber({ figure, hold }: { figure: FigureHold; hold: PlantHold }) {
  const { id, name } = figure.description
  const isHidden = hold.scene.value?.hidden.includes(id) ?? false
  const value = figure.value.value
  return (
    <li class="giant" data-giant={id}>
      <span class="muted giant-name">{name}</span>
      {isHidden ? (
        <span class="giant-number" data-hidden={id}>
          ▧ hidden
        </span>
      ) : (
        <span class={`giant-number quality-${value.quality}`} data-quality={value.quality}>
          <span class="number">{figureText(figure, value).text}</span>
          <span class="unit"> {figure.unit.print}</span>
          <QualityMark value={value} />
        </span>
      )}
    </li>
  )
}

/** The places of the path with their power, water first. */
function Path({ hold }: { hold: PlantHold }) {
  const { trunk } = pathLayout(hold.view.path)
  const steps = trunk.flatMap((node) => {
    const figure = figureOf(node, hold.byId)
    return figure ? [{ node, figure }] : []
  })
  const most = Math.max(1, ...steps.map(({ figure }) => figure.value.value.value ?? 0))
  return (
    <ol class="projector-path" aria-label="Power from water to load">
      {steps.map(({ node, figure }) => (
        <li key={node.id}>
          <span>{node.name}</span>
          <SceneNumber hold={hold} figure={figure} />
          <span
            class="path-bar"
            style={{ '--share': `${Math.max(0, (figure.value.value.value ?? 0) / most)}` }}
            aria-hidden="true"
          />
        </li>
      ))}
    </ol>
  )
}

interface SideProps {
  hold: PlantHold
  desk: DeskReply | null
  lesson: number | undefined
  plant: string
  view: LessonView | undefined
}

/** A question before an explanation before the code for joining. */
function SidePane({ hold, desk, lesson, plant, view }: SideProps) {
  const question = view?.question
  const explained = view?.explained ?? null
  if (question && question.state !== 'revealed')
    return (
      <section class="projector-side" aria-label="Question">
        <p class="question-text">{question.text}</p>
        <p>
          {hold.byId.get(question.figure)?.description.name} · {question.predicted} predicted
          {question.state === 'closed' && ', closed'}
        </p>
        {desk?.code && <JoinCode desk={desk} />}
      </section>
    )
  if (explained !== null && lesson !== undefined)
    return (
      <section class="projector-side" aria-label="Formula">
        <h2>{hold.byId.get(explained)?.description.name}</h2>
        <SceneExplanation
          ask={() => deskRequests.explain(lesson, explained)}
          figure={explained}
          hold={hold}
        />
      </section>
    )
  if (question)
    return (
      <section class="projector-side" aria-label="Reveal">
        <p class="question-text">{question.text}</p>
        <RevealStrip question={question} hold={hold} />
      </section>
    )
  if (desk?.code)
    return (
      <section class="projector-side" aria-label="Join">
        <JoinCode desk={desk} />
        {!desk.join && <p>{desk.joinNote}</p>}
      </section>
    )
  return <OwnExplanation hold={hold} plant={plant} />
}

/** Without a lesson: the figure to explain is chosen here. */
function OwnExplanation({ hold, plant }: { hold: PlantHold; plant: string }) {
  const figures = hold.view.keyFigures.flatMap((id) => hold.byId.get(id) ?? [])
  const derived = figures.findLast(({ description }) => description.origin === 'derived')
  const chosen = useSignal((derived ?? figures[0])?.description.id ?? '')
  return (
    <section class="projector-side" aria-label="Formula">
      <p>
        <label for="projector-explained">Explained</label>
        <Choice
          id="projector-explained"
          value={chosen.value}
          options={figures.map(({ description }) => description)}
          choose={(id) => (chosen.value = id)}
        />
      </p>
      <SceneExplanation
        ask={() => http.explain(plant, chosen.value)}
        figure={chosen.value}
        hold={hold}
        key={chosen.value}
      />
    </section>
  )
}
