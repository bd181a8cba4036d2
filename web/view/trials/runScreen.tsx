import '../../style/tables.css'
import '../../style/depth.css'
import '../../style/fields.css'
import '../../style/trials.css'
import { useSignal } from '@preact/signals'
import { useMemo, useRef } from 'preact/hooks'
import type { RunReply } from '../../../server/wire/trial.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { CautionPanel } from '../plant/cautions.tsx'
import { ControlPanel } from '../plant/controls.tsx'
import { ReplayStart } from '../replay/replayStart.tsx'
import { BalancePanel } from './balancePanel.tsx'
import { ChecksPanel } from './checksPanel.tsx'
import { CurvePanel } from './curvePanel.tsx'
import { GuidancePanel } from './guidancePanel.tsx'
import { ManualPanel } from './manualPanel.tsx'
import { NotesPanel } from './notesPanel.tsx'
import { PointsPanel } from './pointsPanel.tsx'
import { PrintRecord, printRun } from './printRecord.tsx'
import { createRunActions } from './runActions.ts'
import type { RunProps } from './runProps.ts'
import { TraceMain } from './trace/traceMain.tsx'
import { mayTry, TrialRight } from './trialRight.tsx'
import { TypedPanel } from './typedPanel.tsx'

/** While a run is under way it is asked for once a second; a finished one changes only by hand. */
const LIVE_MS = 1000
const FINISHED_MS = 10_000

export interface RunScreenProps {
  hold: PlantHold
  run: number
}

export function RunScreen({ hold, run }: RunScreenProps) {
  const plant = hold.view.id
  const isFinished = useSignal(false)
  const known = useRef<RunReply | null>(null)
  const everyMs = isFinished.value ? FINISHED_MS : LIVE_MS
  const asked = usePolled(() => trialRequests.run(plant, run), everyMs, [plant, run, everyMs])
  const actions = useMemo(() => createRunActions(plant, run, asked.again), [asked])
  const reply = asked.reply.value ?? known.current
  known.current = reply
  if (reply && (reply.run.finishedAt !== null) !== isFinished.peek())
    queueMicrotask(() => {
      isFinished.value = reply.run.finishedAt !== null
    })
  if (!reply) return <p class="quiet">{asked.error.value ?? 'Reading the run…'}</p>
  const props: RunProps = { reply, hold, actions }
  const isUnderWay = reply.guidance !== null
  const isTyped = reply.takes === 'points' || reply.trial.typedPoint !== null
  return (
    <>
      <RunTitle reply={reply} hold={hold} />
      <TrialRight />
      {asked.error.value && (
        <p class="refused" role="alert">
          Not up to date: {asked.error.value} Points that are stored stay stored.
        </p>
      )}
      {actions.error.value && (
        <p class="refused" role="alert">
          Not done: {actions.error.value}
        </p>
      )}
      <div class="run">
        <div class="run-main">
          {reply.takes === 'traces' ? (
            <TraceMain {...props} reply={reply} />
          ) : (
            <>
              {reply.guidance && <GuidancePanel {...props} reply={reply} guidance={reply.guidance} />}
              <CurvePanel {...props} reply={reply} />
              <BalancePanel {...props} reply={reply} />
              <ChecksPanel {...props} />
              <PointsPanel {...props} />
            </>
          )}
        </div>
        <div class="run-rest">
          {isUnderWay && <ControlPanel hold={hold} />}
          {isUnderWay && reply.takes === 'points' && mayTry() && <TypedPanel {...props} reply={reply} />}
          {isUnderWay && isTyped && mayTry() && <ManualPanel {...props} />}
          <NotesPanel {...props} />
          <p>
            <ReplayStart plant={plant} name="Replay this run" wish={() => ({ run })} />
          </p>
          {isUnderWay && <CautionPanel cautions={reply.trial.cautions} />}
        </div>
      </div>
      <PrintRecord plant={plant} reply={reply} />
    </>
  )
}

function RunTitle({ reply: { run, trial }, hold }: Omit<RunProps, 'actions'>) {
  const { id, timeZone: zone } = hold.view
  const names = [run.className, run.group, run.year].filter((text) => text !== '').join(', ')
  return (
    <div class="run-title">
      <h1>{run.name}</h1>
      <p>{trial.name}</p>
      {names !== '' && <p>{names}</p>}
      <p class="number">
        {dateTime(run.startedAt, zone)}
        {run.finishedAt !== null && `, finished ${dateTime(run.finishedAt, zone)}`}
      </p>
      <p class="run-links">
        <button
          type="button"
          class="press press-small"
          data-action="print"
          onClick={() => void printRun(id, run.id)}
        >
          Print
        </button>
        <a href={trialRequests.recordAddress(id, run.id)} target="_blank" rel="noopener">
          Open the record
        </a>
        <a href={trialRequests.packAddress(id, run.id)} download data-action="pack">
          Download the pack
        </a>
      </p>
    </div>
  )
}
