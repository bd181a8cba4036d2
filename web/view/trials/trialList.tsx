import type { RunSummary, TrialsReply, TrialView } from '../../../server/wire/trial.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { dateTime } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Panel } from '../parts/panel.tsx'
import { trialsAddress } from '../route.ts'
import { figureAmount, sentence } from './amounts.ts'
import { StartForm } from './startForm.tsx'

const EVERY_MS = 5000

/** What can be tried at this plant, what each needs, and what was saved. */
export function TrialList({ hold }: { hold: PlantHold }) {
  const plant = hold.view.id
  const asked = usePolled(() => trialRequests.list(plant), EVERY_MS, [plant])
  const reply = asked.reply.value
  const trials = reply?.trials ?? []
  return (
    <>
      <h1>Trials</h1>
      {asked.error.value && <p class="quiet">Not read: {asked.error.value}</p>}
      {reply && <UnderWay reply={reply} plant={plant} />}
      <div class="trial-cards">
        {trials.filter(isPossible).map((trial) => (
          <TrialCard key={trial.id} trial={trial} plant={plant} isFree={reply?.active === null} />
        ))}
      </div>
      {reply && <SavedRuns runs={reply.runs} plant={plant} zone={hold.view.timeZone} />}
      <Impossible trials={trials.filter((trial) => !isPossible(trial))} />
    </>
  )
}

function isPossible({ lacking }: TrialView): boolean {
  return lacking.length === 0
}

/** Trials that this plant lacks something for, with what it is. */
function Impossible({ trials }: { trials: TrialView[] }) {
  if (trials.length === 0) return null
  return (
    <Panel id="impossible" title="Not possible at this plant">
      <dl class="facts">
        {trials.map(({ id, name, lacking }) => (
          <div key={id} data-impossible={id}>
            <dt>{name}</dt>
            <dd>{sentence(lacking.join('; '))}</dd>
          </div>
        ))}
      </dl>
    </Panel>
  )
}

function UnderWay({ reply: { active, runs }, plant }: { reply: TrialsReply; plant: string }) {
  const run = runs.find((one) => one.id === active)
  if (!run) return null
  return (
    <p class="under-way">
      <b>{run.name}</b> is under way: {run.trialName}.{' '}
      <a href={trialsAddress(plant, run.id)}>Go to the run</a>
    </p>
  )
}

function TrialCard({ trial, plant, isFree }: { trial: TrialView; plant: string; isFree: boolean }) {
  return (
    <Panel id={`trial-${trial.id}`} title={trial.name}>
      <p>{trial.aim}</p>
      <dl class="facts">
        <div>
          <dt>Needs</dt>
          <dd>{trial.needs.map(({ name }) => name).join(', ')}</dd>
        </div>
        {trial.hold.map((held) => {
          const figure = trial.figures.find((one) => one.id === held.figure)
          return (
            <div key={held.figure}>
              <dt>Held</dt>
              <dd>
                {figure?.name ?? held.figure}
                {figure &&
                  `: ${figureAmount(figure, held.target)} ± ${figureAmount(figure, held.tolerance, true)}`}
              </dd>
            </div>
          )
        })}
        <div>
          <dt>Varied by</dt>
          <dd>{trial.vary.by}</dd>
        </div>
      </dl>
      <details class="fold">
        <summary>Method and what to expect</summary>
        <ol class="trial-steps">
          {trial.method.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
        <ul class="trial-steps">
          {trial.checks.map((check) => (
            <li key={check}>{check}</li>
          ))}
        </ul>
      </details>
      {isFree && <StartForm trial={trial} plant={plant} />}
    </Panel>
  )
}

function SavedRuns({ runs, plant, zone }: { runs: RunSummary[]; plant: string; zone: string }) {
  return (
    <Panel id="runs" title="Saved runs" aside={<span class="count">{counted(runs.length, 'run')}</span>}>
      {runs.length === 0 && <p class="quiet">No run is saved yet.</p>}
      <ul class="run-list">
        {runs.map((run) => (
          <li key={run.id} data-run={run.id}>
            <a href={trialsAddress(plant, run.id)}>{run.name}</a>
            <span>{run.trialName}</span>
            <span>{[run.className, run.group, run.year].filter((text) => text !== '').join(', ')}</span>
            <span class="number">{dateTime(run.startedAt, zone)}</span>
            <span>
              {counted(run.kept, 'point')}
              {run.rejected > 0 && `, ${run.rejected} rejected`}
              {run.finishedAt === null && ', under way'}
            </span>
            <a href={trialRequests.packAddress(plant, run.id)} download>
              Download
            </a>
          </li>
        ))}
      </ul>
    </Panel>
  )
}
