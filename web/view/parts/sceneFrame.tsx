import type { ComponentChildren } from 'preact'
import type { Connection } from '../../connect/connection.ts'
import type { LinkPhase } from '../../connect/linkStatus.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { address, linkedScreens, type Route, type ScreenName, screens } from '../screens.ts'
import { ScreenGround } from './ground.tsx'
import { SimStamp } from './panel.tsx'

interface FrameWords {
  waiting: string
  gone: string
  /** Below `gone`. */
  why?: string
  isGone(hold: PlantHold | null, phase: LinkPhase): boolean
}

const WORDS: Record<'plant' | 'replay', FrameWords> = {
  plant: {
    waiting: 'Reading the plant…',
    gone: 'No such plant',
    isGone: (hold, phase) => !hold && phase === 'refused',
  },
  replay: {
    waiting: 'Reading the recording…',
    gone: 'This replay is over',
    why: 'Somebody ended it, or the server was started anew. The recording itself is kept.',
    isGone: (hold, phase) => phase === 'refused' || (hold !== null && !hold.scene.value?.replay),
  },
}

export interface SceneFrameProps {
  connection: Connection
  shown: Route
  kind: 'plant' | 'replay'
  children: (hold: PlantHold) => ComponentChildren
}

/**
 * What every screen of a plant or a recording stands in: the links to its other screens, and the mark of a simulation.
 */
export function SceneFrame({ connection, shown, kind, children }: SceneFrameProps) {
  const hold = connection.hold.value
  const words = WORDS[kind]
  if (words.isGone(hold, connection.phase.value))
    return (
      <div class="screen">
        <h1>{words.gone}</h1>
        {words.why && <p>{words.why}</p>}
        <a href={address({ screen: 'plants' })}>To the list of plants</a>
      </div>
    )
  if (!hold)
    return (
      <div class="screen">
        <h1>{words.waiting}</h1>
      </div>
    )
  return (
    <ScreenGround
      class={kind === 'plant' ? 'screen' : undefined}
      screen={shown.screen}
      isSimulated={hold.view.simulated}
      isWithheld={connection.isWithheld.value}
      at={connection.knownAt.value}
      zone={hold.view.timeZone}
    >
      {kind === 'plant' && shown.screen !== 'plant' && <Trail hold={hold} shown={shown} />}
      {children(hold)}
    </ScreenGround>
  )
}

function Trail({ hold, shown }: { hold: PlantHold; shown: Route }) {
  const { id, name, simulated } = hold.view
  return (
    <nav class="row trail" aria-label="Screens of this plant">
      <a href={address({ screen: 'plant', plant: id })}>{name}</a>
      {simulated && <SimStamp />}
      <PlantLinks plant={id} current={shown.screen} />
    </nav>
  )
}

/** Links to the other screens of a plant. */
export function PlantLinks({ plant, current }: { plant: string; current?: ScreenName }) {
  return (
    <>
      {linkedScreens('plant').map((screen) => (
        <a
          key={screen}
          // Nothing but the plant stands in the address of a screen that is linked here.
          href={address({ screen, plant } as Route)}
          aria-current={screen === current ? 'page' : undefined}
        >
          {screens[screen].link?.name}
        </a>
      ))}
    </>
  )
}
