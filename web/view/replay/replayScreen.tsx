import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { Connection } from '../../connect/connection.ts'
import { usePolled } from '../../connect/poll.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { createTrends } from '../../hold/trends.ts'
import { SimStamp } from '../parts/panel.tsx'
import { CautionPanel } from '../plant/cautions.tsx'
import { FigureDetails } from '../plant/figureDetails.tsx'
import { FigurePanel } from '../plant/figureTable.tsx'
import { KeyFigures } from '../plant/keyFigures.tsx'
import { PowerPath } from '../plant/powerPath.tsx'
import { StateCard } from '../plant/stateCard.tsx'
import { TrendPanel } from '../plant/trendPanel.tsx'
import { ReplayBar } from './replayBar.tsx'

const EVERY_MS = 1000

interface ReplayScreenProps {
  connection: Connection
  hold: PlantHold
  replay: number
}

/** A recording through the same view as the plant, at one moment for everybody. */
export function ReplayScreen({ connection, hold, replay }: ReplayScreenProps) {
  const selected = useSignal<string | null>(null)
  const asked = usePolled(() => replayRequests.find(replay), EVERY_MS, [replay])
  const trends = useMemo(() => createTrends(connection, hold), [connection, hold])
  useEffect(() => trends.close, [trends])
  const open = (figure: string) => {
    selected.value = figure
  }
  const props = { connection, hold, open }
  const { name, simulated, timeZone } = hold.view
  return (
    <>
      <ReplayBar
        hold={hold}
        replay={replay}
        summary={asked.reply.value}
        take={(summary) => (asked.reply.value = summary)}
      />
      <div class="screen plant">
        <div class="screen-title">
          <h1>
            {name}
            {simulated && <SimStamp />}
          </h1>
          <p>{asked.reply.value?.runName ?? hold.view.summary}</p>
        </div>
        <StateCard {...props} />
        <div class="stack plant-main">
          <KeyFigures {...props} />
          <PowerPath {...props} />
          <TrendPanel trends={trends} zone={timeZone} connection={connection} />
          <FigurePanel {...props} />
        </div>
        <div class="stack plant-rest">
          <CautionPanel cautions={hold.view.cautions} />
          <FigureDetails {...props} selected={selected} />
        </div>
      </div>
    </>
  )
}
