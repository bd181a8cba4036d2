import { useSignal } from '@preact/signals'
import type { Coverage, HeldView } from '../../../server/wire/point.ts'
import type { PointGuidance, PointTrialView } from '../../../server/wire/trial.ts'
import { Panel } from '../parts/panel.tsx'
import { figureAmount, sentence } from './amounts.ts'
import type { PointRunProps } from './runProps.ts'
import { mayTry } from './trialRight.tsx'

/** What to do now: the sentence, the held quantities, the way to a steady state, and where to go next. */
export function GuidancePanel({ reply, guidance, actions }: PointRunProps & { guidance: PointGuidance }) {
  const { trial } = reply
  return (
    <Panel id="guidance" title="Now" aside={<span class="count">{guidance.setting}</span>}>
      <p class="guide-sentence" role="status" data-guidance={guidance.state}>
        {guidance.sentence}
      </p>
      <SteadyBar guidance={guidance} />
      <dl class="guide-held">
        <Present trial={trial} guidance={guidance} />
        {guidance.held.map((held) => (
          <Held key={held.figure} held={held} trial={trial} />
        ))}
      </dl>
      <Next coverage={guidance.coverage} trial={trial} />
      {mayTry() && <Actions guidance={guidance} actions={actions} />}
    </Panel>
  )
}

function Actions({ guidance, actions }: { guidance: PointGuidance; actions: PointRunProps['actions'] }) {
  return (
    <div class="guide-actions">
      <button
        type="button"
        class="press"
        data-action="repeat"
        aria-disabled={actions.isBusy.value}
        onClick={() => void actions.repeat()}
      >
        Take this state {guidance.point === null ? 'anew' : 'once more'}
      </button>
      <FinishButton finish={() => void actions.finish()} />
    </div>
  )
}

/** Fills while everything is steady; empties with the first movement. */
function SteadyBar({ guidance: { steadySeconds, windowSeconds, state } }: { guidance: PointGuidance }) {
  const left = Math.max(0, Math.ceil(windowSeconds - steadySeconds))
  const isStored = state === 'captured' || state === 'duplicate'
  const words = isStored
    ? 'This state is stored.'
    : state === 'off'
      ? `Steady for ${Math.floor(steadySeconds)} s, but not at its target.`
      : left === 0
        ? 'Steady.'
        : `Steady for ${Math.floor(steadySeconds)} s; ${left} s to go.`
  return (
    <div class="steady" data-steady={Math.floor(steadySeconds)}>
      <progress
        max={windowSeconds}
        value={isStored ? windowSeconds : Math.min(windowSeconds, steadySeconds)}
        aria-label="Time that everything has been steady"
      />
      <span class="number">{words}</span>
    </div>
  )
}

function Present({ trial, guidance }: { trial: PointTrialView; guidance: PointGuidance }) {
  const rows = [
    [trial.abscissa, guidance.abscissa],
    [trial.ordinate, guidance.ordinate],
  ] as const
  return (
    <>
      {rows.map(([id, value]) => {
        const figure = trial.figures.find((one) => one.id === id)
        return (
          figure && (
            <div key={id}>
              <dt>{figure.name}</dt>
              <dd>
                <b class="number">{figureAmount(figure, value)}</b>
              </dd>
            </div>
          )
        )
      })}
    </>
  )
}

const HELD_WORDS: Record<HeldView['state'], string> = {
  held: 'held',
  low: 'too low',
  high: 'too high',
  unknown: 'not known',
}

function Held({ held, trial }: { held: HeldView; trial: PointTrialView }) {
  const figure = trial.figures.find((one) => one.id === held.figure)
  if (!figure) return null
  const isOff = held.state !== 'held'
  return (
    <div class={isOff ? 'held-off' : ''} data-held={held.figure} data-held-state={held.state}>
      <dt>{figure.name}</dt>
      <dd>
        <b class="number">{figureAmount(figure, held.value)}</b> {HELD_WORDS[held.state]}
        <span class="held-target">
          target {figureAmount(figure, held.target)} ± {figureAmount(figure, held.tolerance, true)}
        </span>
        {held.advice !== '' && <span class="held-advice">{sentence(held.advice)}</span>}
      </dd>
    </div>
  )
}

/** A row of places: filled where there is a point, hollow where not, framed where the next would help most. */
function Next({ coverage, trial }: { coverage: Coverage; trial: PointTrialView }) {
  const figure = trial.figures.find((one) => one.id === trial.abscissa)
  if (!figure) return null
  const nearest = coverage.suggested.reduce(
    (best, one, i) =>
      coverage.next !== null &&
      Math.abs(one.value - coverage.next) <
        Math.abs((coverage.suggested[best]?.value ?? Infinity) - coverage.next)
        ? i
        : best,
    0,
  )
  return (
    <div class="coverage">
      <p>
        {coverage.next === null ? (
          <>
            <b>Enough points.</b> Repeat some, or finish the run.
          </>
        ) : (
          <>
            <b>Next:</b> about <span class="number">{figureAmount(figure, coverage.next)}</span> (
            {coverage.why}
            ). Change it by {trial.vary.by}.
          </>
        )}
      </p>
      <ol class="places" aria-label={`Places along ${figure.name}`}>
        {coverage.suggested.map(({ value, isCovered }, i) => (
          <li
            key={value}
            class={isCovered ? 'place place-taken' : 'place'}
            data-next={coverage.next !== null && i === nearest}
          >
            <span class="spoken">{isCovered ? 'taken' : 'open'} </span>
            {figureAmount(figure, value)}
          </li>
        ))}
      </ol>
    </div>
  )
}

function FinishButton({ finish }: { finish: () => void }) {
  const isAsked = useSignal(false)
  if (!isAsked.value)
    return (
      <button type="button" class="press" data-action="finish" onClick={() => (isAsked.value = true)}>
        Finish the run…
      </button>
    )
  return (
    <>
      <button type="button" class="press" data-action="finish-really" onClick={finish}>
        Yes, no more points
      </button>
      <button type="button" class="press" onClick={() => (isAsked.value = false)}>
        Go on
      </button>
    </>
  )
}
