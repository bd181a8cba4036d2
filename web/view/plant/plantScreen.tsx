import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { Session } from '../../connect/session.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { createTrends } from '../../hold/trends.ts'
import { SimStamp } from '../parts/panel.tsx'
import { AlarmPanel } from './alarmPanel.tsx'
import { CautionPanel } from './cautions.tsx'
import { ControlPanel } from './controls.tsx'
import { CounterPanel } from './counters.tsx'
import { FigureDetails } from './figureDetails.tsx'
import { FigurePanel } from './figureTable.tsx'
import { JournalPanel } from './journal.tsx'
import { KeyFigures } from './keyFigures.tsx'
import { PowerPath } from './powerPath.tsx'
import { StateCard } from './stateCard.tsx'
import { TrendPanel } from './trends.tsx'

/** What every part of this screen is given. */
export interface PlantProps {
  session: Session
  hold: PlantHold
  /** Opens the details of a figure. */
  open: (figure: string) => void
}

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
  const trends = useMemo(() => createTrends(session, hold), [session, hold])
  useEffect(() => trends.close, [trends])
  useEffect(() => {
    document.title = `${hold.view.name} · Headrace`
  }, [hold])
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
      </div>
      <StateCard {...props} />
      <AlarmPanel {...props} />
      <div class="plant-main">
        <KeyFigures {...props} />
        <PowerPath {...props} />
        <TrendPanel trends={trends} zone={hold.view.timeZone} session={session} />
        <FigurePanel {...props} />
      </div>
      <div class="plant-rest">
        <ControlPanel hold={hold} />
        <CounterPanel hold={hold} session={session} />
        <JournalPanel hold={hold} session={session} />
        <CautionPanel cautions={hold.view.cautions} />
      </div>
      <FigureDetails {...props} selected={selected} />
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
