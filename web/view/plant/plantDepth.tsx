import { useEffect, useMemo } from 'preact/hooks'
import { createTrends } from '../../hold/trends.ts'
import { isNarrow } from '../parts/fold.tsx'
import { ReplayPanel } from '../replay/replayPanel.tsx'
import { AgreementPanel } from './agreementPanel.tsx'
import { CautionPanel } from './cautions.tsx'
import { ControlPanel } from './controls.tsx'
import { CounterPanel } from './counterPanel.tsx'
import { EventPanel } from './eventPanel.tsx'
import { FigureDetails } from './figureDetails.tsx'
import { FigurePanel } from './figureTable.tsx'
import { JournalPanel } from './journal.tsx'
import type { DepthProps } from './plantProps.ts'
import { PowerPath } from './powerPath.tsx'
import { TrendPanel } from './trendPanel.tsx'

/** What stands below the key figures. */
export function PlantMain(props: DepthProps) {
  const { connection, hold } = props
  const trends = useMemo(() => createTrends(connection, hold), [connection, hold])
  useEffect(() => trends.close, [trends])
  return (
    <>
      <PowerPath {...props} />
      <AgreementPanel {...props} />
      <TrendPanel trends={trends} zone={hold.view.timeZone} connection={connection} />
      {!isNarrow.value && <FigurePanel {...props} />}
    </>
  )
}

/** What stands beside the figures on a desk. On a phone, with the table of figures among it. */
export function PlantRest(props: DepthProps) {
  const { connection, hold } = props
  return (
    <>
      <ControlPanel hold={hold} />
      {isNarrow.value && <FigurePanel {...props} />}
      <ReplayPanel hold={hold} connection={connection} />
      <CounterPanel hold={hold} connection={connection} />
      <EventPanel hold={hold} connection={connection} />
      <JournalPanel hold={hold} connection={connection} />
      <CautionPanel cautions={hold.view.cautions} />
      <FigureDetails {...props} />
    </>
  )
}
