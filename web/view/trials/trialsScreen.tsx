import '../../style/tables.css'
import '../../style/depth.css'
import '../../style/fields.css'
import '../../style/trials.css'
import type { Session } from '../../connect/session.ts'
import { SimStamp } from '../parts/panel.tsx'
import { plantAddress, trialsAddress } from '../route.ts'
import { RunScreen } from './runScreen.tsx'
import { TrialList } from './trialList.tsx'

/** The trials of a plant and its saved runs, or one run. */
export function TrialsScreen({ session, run }: { session: Session; run: number | null }) {
  const hold = session.hold.value
  if (!hold) {
    const isRefused = session.phase.value === 'refused'
    return (
      <div class="screen">
        <h1>{isRefused ? 'No such plant' : 'Reading the plant…'}</h1>
        {isRefused && <a href="#/">To the list of plants</a>}
      </div>
    )
  }
  const { id, name, simulated } = hold.view
  return (
    <div class="screen trials" data-screen={run === null ? 'trials' : 'run'} data-simulated={simulated}>
      <p class="trail">
        <a href={plantAddress(id)}>{name}</a>
        {simulated && <SimStamp />}
        {run !== null && <a href={trialsAddress(id)}>All trials</a>}
      </p>
      {run === null ? (
        <TrialList hold={hold} />
      ) : (
        <RunScreen hold={hold} session={session} run={run} key={run} />
      )}
    </div>
  )
}
