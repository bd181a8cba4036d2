import { useSignal } from '@preact/signals'
import { useMemo, useRef } from 'preact/hooks'
import type { RunReply } from '../../../server/wire/trial.ts'
import { may } from '../../connect/person.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { dateTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Button } from '../parts/button.tsx'
import { Refused, RightHint } from '../parts/refusal.tsx'
import { CautionPanel } from '../plant/cautions.tsx'
import { ControlPanel } from '../plant/controls.tsx'
import { ReplayStart } from '../replay/replayPanel.tsx'
import { BalancePanel } from './balancePanel.tsx'
import { ChecksPanel } from './checksPanel.tsx'
import { GuidancePanel } from './guidancePanel.tsx'
import { NotesPanel } from './notesPanel.tsx'
import { PrintRecord, printRun } from './printRecord.tsx'
import { ResultPanel } from './resultPanel.tsx'
import { createRunActions, isUnderWay, type RunProps } from './runActions.ts'
import { TakesPanel } from './takesPanel.tsx'
import { runNames } from './trialText.ts'
import { ManualPanel, TypedPanel } from './typedPanel.tsx'

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
  return (
    <>
      <RunTitle reply={reply} hold={hold} />
      <RightHint action="trial" />
      <Refused
        reason={
          asked.error.value && `Not up to date: ${asked.error.value} Points that are stored stay stored.`
        }
      />
      <Refused reason={actions.error.value && `Not done: ${actions.error.value}`} />
      <div class="run">
        <RunMain reply={reply} hold={hold} actions={actions} />
        <RunRest reply={reply} hold={hold} actions={actions} />
      </div>
      <PrintRecord plant={plant} reply={reply} />
    </>
  )
}

/** What to do, what it says so far, and what was taken. */
function RunMain(props: RunProps) {
  const { reply } = props
  return (
    <div class="stack">
      {isUnderWay(reply) && <GuidancePanel {...props} reply={reply} />}
      <ResultPanel {...props} />
      {reply.takes === 'points' && <BalancePanel {...props} reply={reply} />}
      <ChecksPanel {...props} />
      <TakesPanel {...props} />
    </div>
  )
}

/** The plant's controls, what is typed, and names and notes. */
function RunRest(props: RunProps) {
  const { reply, hold } = props
  const isTyped = reply.takes === 'points' || reply.trial.typedPoint !== null
  return (
    <div class="stack">
      {isUnderWay(reply) && <ControlPanel hold={hold} />}
      {isUnderWay(reply) && reply.takes === 'points' && may('trial') && (
        <TypedPanel {...props} reply={reply} />
      )}
      {isUnderWay(reply) && isTyped && may('trial') && <ManualPanel {...props} />}
      <NotesPanel {...props} />
      <p>
        <ReplayStart plant={hold.view.id} name="Replay this run" wish={() => ({ run: reply.run.id })} />
      </p>
      {isUnderWay(reply) && <CautionPanel cautions={reply.trial.cautions} />}
    </div>
  )
}

function RunTitle({ reply: { run, trial }, hold }: Omit<RunProps, 'actions'>) {
  const { id, timeZone: zone } = hold.view
  const names = runNames(run)
  return (
    <div class="screen-title">
      <h1>{run.name}</h1>
      <p>{trial.name}</p>
      {names !== '' && <p>{names}</p>}
      <p class="number">
        {dateTime(run.startedAt, zone)}
        {run.finishedAt !== null && `, finished ${dateTime(run.finishedAt, zone)}`}
      </p>
      <p class="row">
        <Button isSmall action="print" onClick={() => printRun(id, run.id)}>
          Print
        </Button>
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
