import type { AlarmState, AlarmView } from '../../../server/wire/alarm.ts'
import type { SteadyLamp } from '../../../server/wire/lesson.ts'
import type { SceneView } from '../../../server/wire/scene.ts'
import { clockTime, dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { FigureNumber, type FigureProps } from '../parts/figureNumber.tsx'
import { useLastKnown } from '../parts/ground.tsx'
import { PriorityShape } from '../parts/shapes.tsx'

/** Number of a figure, or the word that stands for it while it is hidden. */
export function SceneNumber({ hold, ...number }: FigureProps & { hold: PlantHold }) {
  const { figure } = number
  const isHidden = hold.scene.value?.hidden.includes(figure.description.id) ?? false
  if (!isHidden) return <FigureNumber {...number} />
  return (
    <span class="hidden-figure" data-hidden={figure.description.id}>
      <span aria-hidden="true">▧ </span>hidden
    </span>
  )
}

/** That the figures are not those of now. Nothing while they are. */
export function SceneStamp({ scene, zone }: { scene: SceneView | null; zone: string }) {
  if (!scene) return null
  const { replay, lesson } = scene
  if (!replay && !lesson?.frozenAt) return null
  return (
    <p class="scene-stamp" data-stamp={lesson?.frozenAt ? 'frozen' : 'replay'}>
      {lesson?.frozenAt && (
        <>
          <b>FROZEN</b> figures of {clockTime(lesson.frozenAt, zone)}
        </>
      )}
      {replay && (
        <>
          {lesson?.frozenAt && ', '}
          <b>REPLAY</b> recorded {dateTime(replay.at, zone)}
        </>
      )}
    </p>
  )
}

const LAMPS: Record<SteadyLamp['state'] | 'captured', { path: string; word: string }> = {
  hold: { path: 'M5 5h8v22H5zM19 5h8v22h-8z', word: 'HOLD' },
  steady: { path: 'M16 3a13 13 0 1 0 .01 0z', word: 'STEADY' },
  captured: { path: 'M3 17l9 9L29 7', word: 'CAPTURED' },
  unknown: { path: 'M16 3 29 16 16 29 3 16z', word: 'NOT KNOWN' },
}

/** Steadiness by shape and word: two bars, a disc, a tick. */
export function Lamp({ lamp }: { lamp: Omit<SteadyLamp, 'state'> & { state: keyof typeof LAMPS } }) {
  const at = useLastKnown()
  const state = at === null ? lamp.state : 'unknown'
  const { path, word } = LAMPS[state]
  return (
    <p class={`row steady-lamp steady-${state}`} data-lamp={state}>
      <svg viewBox="0 0 32 32" aria-hidden="true">
        <path d={path} />
      </svg>
      <b>{word}</b> <span class="muted">{at === null ? lamp.sentence : `Nothing comes since ${at}.`}</span>
    </p>
  )
}

export function SettingBanner({ setting }: { setting: string }) {
  return <p class="setting-banner">{setting || 'This plant reports no switches.'}</p>
}

const QUIET: AlarmState[] = ['normal', 'shelved', 'suppressed', 'outOfService']

/** High-priority alarms and over-speed: shown whatever is hidden, frozen or replayed. */
export function SafetyAlarms({ alarms }: { alarms: readonly AlarmView[] }) {
  const at = useLastKnown()
  const shown = alarms.filter((alarm) => alarm.isForSafety && !QUIET.includes(alarm.state))
  if (shown.length === 0) return null
  return (
    <ul class="safety-alarms" role="alert">
      {shown.map(({ id, name, priority, state, active }) => (
        <li key={id} data-safety={id}>
          <PriorityShape priority={priority} flashes={state === 'unacknowledged'} />
          <b>{name}</b> {safetyWords(active, at)}
        </li>
      ))}
    </ul>
  )
}

function safetyWords(active: boolean, lastKnownAt: string | null): string {
  if (lastKnownAt !== null)
    return active ? `at the plant at ${lastKnownAt}; nobody can say how it is now` : 'was raised at the plant'
  return active ? 'at the plant now' : 'was raised at the plant, is over'
}

/** As server/derive/storageWatch.ts begins its sentences. */
const NOT_STEADY = 'not steady'

/**
 * Whether energy goes into or out of storage, by what the figures themselves say; null at a plant without figures that
 * could tell. A lesson has its own, stricter watch.
 */
export function liveLamp({ byId, figures }: PlantHold): SteadyLamp | null {
  const judged = ['turbineEfficiency', 'plantEfficiency'].flatMap((id) => byId.get(id) ?? [])
  if (judged.length === 0) return null
  const reason = figures.flatMap(({ value }) => value.value.reasons).find((one) => one.includes(NOT_STEADY))
  if (reason) return { state: 'hold', sentence: `${reason[0]!.toUpperCase()}${reason.slice(1)}.` }
  if (judged.every(({ value }) => value.value.value === null))
    return { state: 'unknown', sentence: 'The efficiency is not known.' }
  return { state: 'steady', sentence: 'Steady enough for an efficiency.' }
}
