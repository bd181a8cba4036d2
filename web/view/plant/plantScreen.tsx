import { useSignal } from '@preact/signals'
import type { Session } from '../../connect/session.ts'
import { lazily } from '../parts/lazily.tsx'
import { SimStamp } from '../parts/panel.tsx'
import { lessonAddress, projectorAddress, trialsAddress } from '../route.ts'
import { AlarmPanel } from './alarmPanel.tsx'
import { KeyFigures } from './keyFigures.tsx'
import type { PlantProps } from './plantProps.ts'
import { StateCard } from './stateCard.tsx'

// State, alarms and key figures are the first useful paint; the rest is fetched right after it.
const loadDepth = () => import('./plantDepth.tsx')
const PlantMain = lazily(() => loadDepth().then((module) => module.PlantMain))
const PlantRest = lazily(() => loadDepth().then((module) => module.PlantRest))

export function PlantScreen({ session }: { session: Session }) {
  const hold = session.hold.value
  if (hold) return <Plant session={session} hold={hold} key={hold.view.id} />
  const isRefused = session.phase.value === 'refused'
  return (
    <div class="screen">
      <h1>{isRefused ? 'No such plant' : 'Reading the plant…'}</h1>
      {isRefused && <a href="#/">To the list of plants</a>}
    </div>
  )
}

function Plant({ session, hold }: Omit<PlantProps, 'open'>) {
  const selected = useSignal<string | null>(null)
  const open = (figure: string) => {
    selected.value = figure
  }
  const props = { session, hold, open }
  return (
    <Withheld session={session} isSimulated={hold.view.simulated}>
      <div class="plant-title">
        <h1>
          {hold.view.name}
          {hold.view.simulated && <SimStamp />}
        </h1>
        <p>{hold.view.summary}</p>
        <a href={trialsAddress(hold.view.id)}>Trials</a> <a href={lessonAddress(hold.view.id)}>Classes</a>{' '}
        <a href={projectorAddress(hold.view.id, null)}>Projector view</a>
      </div>
      <StateCard {...props} />
      <AlarmPanel {...props} />
      <div class="plant-main">
        <KeyFigures {...props} />
        <PlantMain {...props} selected={selected} />
      </div>
      <div class="plant-rest">
        <PlantRest {...props} selected={selected} />
      </div>
    </Withheld>
  )
}

interface WithheldProps {
  session: Session
  isSimulated: boolean
  children: preact.ComponentChildren
}

/** Hatches every figure at once while they are not live: one attribute, nothing below is drawn anew. */
function Withheld({ session, isSimulated, children }: WithheldProps) {
  return (
    <div
      class="screen plant"
      data-screen="plant"
      data-simulated={isSimulated}
      data-withheld={session.notice.value !== null}
    >
      {children}
    </div>
  )
}
