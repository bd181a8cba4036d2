import { useSignal } from '@preact/signals'
import { lazily } from '../parts/lazily.tsx'
import { SimStamp } from '../parts/panel.tsx'
import { PlantLinks } from '../parts/sceneFrame.tsx'
import { AlarmPanel } from './alarmPanel.tsx'
import { KeyFigures } from './keyFigures.tsx'
import type { PlantProps } from './plantProps.ts'
import { StateCard } from './stateCard.tsx'

// State, alarms and key figures are the first useful paint; the rest is fetched right after it.
const loadDepth = () => import('./plantDepth.tsx')
const PlantMain = lazily(() => loadDepth().then((module) => module.PlantMain))
const PlantRest = lazily(() => loadDepth().then((module) => module.PlantRest))

export function PlantScreen({ connection, hold }: Omit<PlantProps, 'open'>) {
  const selected = useSignal<string | null>(null)
  const open = (figure: string) => {
    selected.value = figure
  }
  const props = { connection, hold, open }
  return (
    <div class="plant">
      <div class="screen-title">
        <h1>
          {hold.view.name}
          {hold.view.simulated && <SimStamp />}
        </h1>
        <p>{hold.view.summary}</p>
        <PlantLinks plant={hold.view.id} />
      </div>
      <StateCard {...props} />
      <AlarmPanel {...props} />
      <div class="stack plant-main">
        <KeyFigures {...props} />
        <PlantMain {...props} selected={selected} />
      </div>
      <div class="stack plant-rest">
        <PlantRest {...props} selected={selected} />
      </div>
    </div>
  )
}
