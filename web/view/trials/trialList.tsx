import type { ComponentChildren } from 'preact'
import { figureOf } from '../../../server/wire/amounts.ts'
import type { TrialsReply, TrialView } from '../../../server/wire/trial.ts'
import { may } from '../../connect/person.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Fact } from '../parts/fact.tsx'
import { Panel } from '../parts/panel.tsx'
import { RightHint } from '../parts/refusal.tsx'
import { address } from '../screens.ts'
import { SavedRuns } from './savedRuns.tsx'
import { StartForm } from './startForm.tsx'
import { figureAmount, sentence } from './trialText.ts'

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
      <RightHint action="trial" />
      <div class="trial-cards">
        {trials.filter(isPossible).map((trial) => (
          <TrialCard key={trial.id} trial={trial} plant={plant} isFree={reply?.underWay === null} />
        ))}
      </div>
      <SavedRuns plant={plant} zone={hold.view.timeZone} />
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
          <Fact key={id} word={name} data-impossible={id}>
            {sentence(lacking.join('; '))}
          </Fact>
        ))}
      </dl>
    </Panel>
  )
}

function UnderWay({ reply: { underWay: run }, plant }: { reply: TrialsReply; plant: string }) {
  if (!run) return null
  return (
    <p class="under-way">
      <b>{run.name}</b> is under way: {run.trialName}.{' '}
      <a href={address({ screen: 'run', plant, run: run.id })}>Go to the run</a>
    </p>
  )
}

/** Open where there is room for all of them; on a phone only the names. */
function TrialFold({ trial, children }: { trial: TrialView; children: ComponentChildren }) {
  const id = `trial-${trial.id}`
  return (
    <section class="panel trial-card" aria-labelledby={`title-${id}`} data-panel={id} data-still>
      <details open={isWide()}>
        <summary>
          <h2 id={`title-${id}`}>{trial.name}</h2>
        </summary>
        {children}
      </details>
    </section>
  )
}

function isWide(): boolean {
  return matchMedia('(min-width: 700px)').matches
}

function TrialCard({ trial, plant, isFree }: { trial: TrialView; plant: string; isFree: boolean }) {
  return (
    <TrialFold trial={trial}>
      <p>{trial.aim}</p>
      <dl class="facts">
        {factsOf(trial).map(([term, words]) => (
          <Fact key={`${term} ${words}`} word={term}>
            {words}
          </Fact>
        ))}
      </dl>
      <details class="fold">
        <summary>Method and what to expect</summary>
        <ol class="trial-steps">
          {trial.method.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
        <ul class="trial-steps">
          {trial.checks.map(({ id, text }) => (
            <li key={id}>{text}</li>
          ))}
        </ul>
      </details>
      {isFree && may('trial') && <StartForm trial={trial} plant={plant} />}
    </TrialFold>
  )
}

/** What a trial asks for. */
function factsOf(trial: TrialView): [term: string, words: string][] {
  const needs: [string, string] = ['Needs', trial.needs.map(({ name }) => name).join(', ')]
  if (trial.takes === 'traces')
    return [needs, ['Begins', `when ${trial.begins}`], ['Traces', String(trial.repeats)]]
  const held = trial.hold.map((one): [string, string] => {
    const figure = figureOf(trial, one.figure)
    const range =
      figure && `${figureAmount(figure, one.target)} ± ${figureAmount(figure, one.tolerance, true)}`
    return ['Held', figure ? `${figure.name}: ${range}` : one.figure]
  })
  return [needs, ...held, ['Varied by', trial.vary.by]]
}
