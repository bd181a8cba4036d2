import { useSignal } from '@preact/signals'
import type { TraceCondition } from '../../../../server/wire/trace.ts'
import type { TraceGuidance, TraceTrialView, TrialView } from '../../../../server/wire/trial.ts'
import { Panel } from '../../parts/panel.tsx'
import { figureAmount, sentence } from '../amounts.ts'
import type { RunActions } from '../runActions.ts'

export interface TraceGuidanceProps {
  trial: TraceTrialView
  guidance: TraceGuidance
  actions: RunActions
}

/** A shape besides the word, so that a state is not told by colour alone. */
const SHAPES: Record<TraceGuidance['state'], [shape: string, word: string]> = {
  resting: ['○', 'Not armed'],
  preparing: ['◔', 'Prepare'],
  armed: ['◎', 'Armed'],
  recording: ['●', 'Recording'],
  storing: ['▲', 'Disk refuses'],
}

/** What to do now, what stands against a trace, and how the one under way stands. */
export function TraceGuidancePanel({ trial, guidance, actions }: TraceGuidanceProps) {
  const { state, conditions, kept, wanted } = guidance
  const [shape, word] = SHAPES[state]
  const main = trial.figures.find((one) => one.id === trial.main)
  return (
    <Panel id="trace-guidance" title="Now" aside={<span class="count">{guidance.setting}</span>}>
      <p class="trace-state">
        <span aria-hidden="true">{shape}</span> {word}
        {main && <b class="number">{figureAmount(main, guidance.value)}</b>}
      </p>
      <p class="guide-sentence" role="status" data-trace-state={state}>
        {guidance.sentence}
      </p>
      {state === 'recording' && <Progress guidance={guidance} />}
      {conditions.length > 0 && (
        <ul class="trace-conditions">
          {conditions.map((one) => (
            <Condition key={one.label} condition={one} trial={trial} />
          ))}
        </ul>
      )}
      <p>
        <b>{kept}</b> of {wanted} {wanted === 1 ? 'trace' : 'traces'} kept.
        {guidance.lost > 0 && ` ${guidance.lost} readings were lost: the disk refused them for too long.`}
      </p>
      <div class="guide-actions">
        <ArmButtons state={state} actions={actions} />
        <FinishButton actions={actions} />
      </div>
      <p class="hint">{trial.policy}</p>
    </Panel>
  )
}

function Progress({ guidance: { seconds, longestSeconds, readings } }: { guidance: TraceGuidance }) {
  return (
    <div class="steady">
      <progress
        max={longestSeconds}
        value={Math.min(seconds, longestSeconds)}
        aria-label="Time of this trace"
      />
      <span class="number">
        {seconds.toFixed(0)} s of at most {longestSeconds.toFixed(0)} s, {readings} readings
      </span>
    </div>
  )
}

function Condition({ condition, trial }: { condition: TraceCondition; trial: TrialView }) {
  const { label, isMet, against, advice } = condition
  return (
    <li class={isMet ? 'met' : 'unmet'} data-condition={label} data-met={isMet}>
      <span aria-hidden="true">{isMet ? '✓' : '✗'}</span>
      <span>
        <b>{label}</b> {isMet ? 'yes' : 'not yet'}
        {against.map(({ figure, name, value, words }) => {
          const described = trial.figures.find((one) => one.id === figure)
          const shown =
            described && !described.discrete && value !== null ? ` (${figureAmount(described, value)})` : ''
          return (
            <span class="held-advice" key={figure}>
              {name} {words}
              {shown}
            </span>
          )
        })}
        {!isMet && <span class="held-target">{sentence(advice)}</span>}
      </span>
    </li>
  )
}

function ArmButtons({ state, actions }: { state: TraceGuidance['state']; actions: RunActions }) {
  const isResting = state === 'resting'
  const word = isResting
    ? 'Arm'
    : state === 'recording' || state === 'storing'
      ? 'End this trace'
      : 'Stand down'
  return (
    <button
      type="button"
      class="press"
      data-action={isResting ? 'arm' : 'disarm'}
      aria-disabled={actions.isBusy.value}
      onClick={() => void actions.arm(isResting)}
    >
      {word}
    </button>
  )
}

function FinishButton({ actions }: { actions: RunActions }) {
  const isAsked = useSignal(false)
  if (!isAsked.value)
    return (
      <button type="button" class="press" data-action="finish" onClick={() => (isAsked.value = true)}>
        Finish the run…
      </button>
    )
  return (
    <>
      <button type="button" class="press" data-action="finish-really" onClick={() => void actions.finish()}>
        Yes, no more traces
      </button>
      <button type="button" class="press" onClick={() => (isAsked.value = false)}>
        Go on
      </button>
    </>
  )
}
