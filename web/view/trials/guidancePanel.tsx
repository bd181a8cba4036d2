import type { ComponentChildren } from 'preact'
import { figureOf } from '../../../server/wire/amounts.ts'
import type { Coverage, HeldView } from '../../../server/wire/point.ts'
import type { TraceCondition } from '../../../server/wire/trace.ts'
import type {
  Guidance,
  PointGuidance,
  PointTrialView,
  TraceGuidance,
  TrialView,
} from '../../../server/wire/trial.ts'
import { may } from '../../connect/person.ts'
import { counted } from '../../format/words.ts'
import { Button, Confirm } from '../parts/button.tsx'
import { Fact } from '../parts/fact.tsx'
import { useLastKnown } from '../parts/ground.tsx'
import { Panel } from '../parts/panel.tsx'
import type { PointRunUnderWay, RunActions, RunProps, RunUnderWay, TraceRunUnderWay } from './runActions.ts'
import { figureAmount, sentence } from './trialText.ts'

/** What to do now: the sentence, how far it is, what stands against it, and what is wanted next. */
export function GuidancePanel({ reply, actions }: RunProps<RunUnderWay>) {
  const { guidance } = reply
  const lastKnown = useLastKnown()
  if (lastKnown !== null)
    return (
      <Panel id="guidance" title="Now">
        <p class="guide-sentence" role="status" data-guidance="notKnown">
          Nobody here can say how it stands: nothing has come since {lastKnown}. What the server still hears,
          it captures.
        </p>
      </Panel>
    )
  return (
    <Panel id="guidance" title="Now" count={guidance.setting}>
      {guidance.takes === 'traces' && <StateSign state={guidance.state} />}
      <p
        class="guide-sentence"
        role="status"
        {...{ [guidance.takes === 'points' ? 'data-guidance' : 'data-trace-state']: guidance.state }}
      >
        {guidance.sentence}
      </p>
      {reply.takes === 'points' ? <PointState reply={reply} /> : <TraceState reply={reply} />}
      {may('trial') && <Actions guidance={guidance} actions={actions} />}
      {reply.takes === 'traces' && <p class="hint">{reply.trial.policy}</p>}
    </Panel>
  )
}

/** The way to a steady state, the held quantities, and where to go next. */
function PointState({ reply: { trial, guidance } }: { reply: PointRunUnderWay }) {
  return (
    <>
      {guidance.state !== 'resting' && <Steadiness guidance={guidance} />}
      <dl class="amounts guide-held">
        <Present id={trial.abscissa} value={guidance.abscissa} trial={trial} />
        <Present id={trial.ordinate} value={guidance.ordinate} trial={trial} />
        {guidance.held.map((held) => (
          <Held key={held.figure} held={held} trial={trial} />
        ))}
      </dl>
      <Next coverage={guidance.coverage} trial={trial} />
    </>
  )
}

/** The trace under way, what one needs to begin, and how many are wanted. */
function TraceState({ reply: { trial, guidance } }: { reply: TraceRunUnderWay }) {
  const { state, seconds, longestSeconds, readings, kept, wanted, lost } = guidance
  return (
    <>
      {state === 'recording' && (
        <Bar label="Time of this trace" value={seconds} most={longestSeconds}>
          {seconds.toFixed(0)} s of at most {longestSeconds.toFixed(0)} s, {readings} readings
        </Bar>
      )}
      <dl class="amounts guide-held">
        <Present id={trial.main} value={guidance.value} trial={trial} />
        {guidance.conditions.map((one) => (
          <Condition key={one.label} condition={one} trial={trial} />
        ))}
      </dl>
      <p class="coverage">
        <b>{kept}</b> of {counted(wanted, 'trace')} kept.
        {lost > 0 && ` ${lost} readings were lost: the disk refused them for too long.`}
      </p>
    </>
  )
}

/** A shape besides the word, so that a state is not told by colour alone. */
const SIGNS: Record<TraceGuidance['state'], [shape: string, word: string]> = {
  resting: ['○', 'Not armed'],
  preparing: ['◔', 'Prepare'],
  armed: ['◎', 'Armed'],
  recording: ['●', 'Recording'],
  storing: ['▲', 'Disk refuses'],
}

function StateSign({ state }: { state: TraceGuidance['state'] }) {
  const [shape, word] = SIGNS[state]
  return (
    <p>
      <span aria-hidden="true">{shape}</span> {word}
    </p>
  )
}

function Actions({ guidance, actions }: { guidance: Guidance; actions: RunActions }) {
  const step = guidance.takes === 'points' ? repeatStep(guidance, actions) : armStep(guidance, actions)
  return (
    <div class="buttons guide-actions">
      <Button action={step.id} aria-disabled={actions.isBusy.value} onClick={() => step.take()}>
        {step.words}
      </Button>
      <Confirm
        action="finish"
        word="Finish the run…"
        yes={`Yes, no more ${guidance.takes}`}
        no="Go on"
        deed={actions.finish}
      />
    </div>
  )
}

interface Step {
  id: string
  words: string
  take: () => Promise<boolean>
}

function repeatStep({ point, state }: PointGuidance, { arm, repeat }: RunActions): Step {
  if (state === 'resting') return { id: 'arm', words: 'Go on', take: () => arm(true) }
  return { id: 'repeat', words: `Take this state ${point === null ? 'anew' : 'once more'}`, take: repeat }
}

function armStep({ state }: TraceGuidance, { arm }: RunActions): Step {
  if (state === 'resting') return { id: 'arm', words: 'Arm', take: () => arm(true) }
  const words = state === 'recording' || state === 'storing' ? 'End this trace' : 'Stand down'
  return { id: 'disarm', words, take: () => arm(false) }
}

interface BarProps {
  label: string
  value: number
  most: number
  children: ComponentChildren
}

function Bar({ label, value, most, children }: BarProps) {
  return (
    <div class="row steady">
      <progress max={most} value={Math.min(value, most)} aria-label={label} />
      <span class="number">{children}</span>
    </div>
  )
}

/** Fills while everything is steady; empties with the first movement. */
function Steadiness({ guidance: { steadySeconds, windowSeconds, state } }: { guidance: PointGuidance }) {
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
    <Bar
      label="Time that everything has been steady"
      value={isStored ? windowSeconds : steadySeconds}
      most={windowSeconds}
    >
      {words}
    </Bar>
  )
}

/** What is drawn, as it is now. */
function Present({ id, value, trial }: { id: string; value: number | null; trial: TrialView }) {
  const figure = figureOf(trial, id)
  if (!figure) return null
  return (
    <Fact word={figure.name}>
      <b class="number">{figureAmount(figure, value)}</b>
    </Fact>
  )
}

const HELD_WORDS: Record<HeldView['state'], string> = {
  held: 'held',
  low: 'too low',
  high: 'too high',
  unknown: 'not known',
}

function Held({ held, trial }: { held: HeldView; trial: TrialView }) {
  const { state, value, target, tolerance, advice } = held
  const figure = figureOf(trial, held.figure)
  if (!figure) return null
  return (
    <Fact
      word={figure.name}
      class={state === 'held' ? undefined : 'held-off'}
      data-held={held.figure}
      data-held-state={state}
    >
      <b class="number">{figureAmount(figure, value)}</b> {HELD_WORDS[state]}
      <span class="note">
        target {figureAmount(figure, target)} ± {figureAmount(figure, tolerance, true)}
      </span>
      {advice !== '' && <span class="held-advice">{sentence(advice)}</span>}
    </Fact>
  )
}

function Condition({ condition, trial }: { condition: TraceCondition; trial: TrialView }) {
  const { label, isMet, against, advice } = condition
  const measured = ({ figure, value }: TraceCondition['against'][number]) => {
    const described = figureOf(trial, figure)
    return described && !described.discrete && value !== null ? ` (${figureAmount(described, value)})` : ''
  }
  return (
    <Fact word={label} class={isMet ? undefined : 'held-off'} data-condition={label}>
      <span aria-hidden="true">{isMet ? '✓' : '✗'}</span> {isMet ? 'yes' : 'not yet'}
      {against.map((one) => (
        <span class="held-advice" key={one.figure}>
          {one.name} {one.words}
          {measured(one)}
        </span>
      ))}
      {!isMet && <span class="note">{sentence(advice)}</span>}
    </Fact>
  )
}

/** A row of places: filled where there is a point, hollow where not, framed where the next would help most. */
function Next({ coverage: { suggested, next, why }, trial }: { coverage: Coverage; trial: PointTrialView }) {
  const figure = figureOf(trial, trial.abscissa)
  if (!figure) return null
  const away = suggested.map(({ value }) => Math.abs(value - (next ?? Number.NaN)))
  const nearest = away.indexOf(Math.min(...away))
  return (
    <div class="coverage">
      <p>
        {next === null ? (
          <>
            <b>Enough points.</b> Repeat some, or finish the run.
          </>
        ) : (
          <>
            <b>Next:</b> about <span class="number">{figureAmount(figure, next)}</span> ({why}). Change it by{' '}
            {trial.vary.by}.
          </>
        )}
      </p>
      <ol class="places" aria-label={`Places along ${figure.name}`}>
        {suggested.map(({ value, isCovered }, i) => (
          <li key={value} class={isCovered ? 'place place-taken' : 'place'} data-next={i === nearest}>
            <span class="spoken">{isCovered ? 'taken' : 'open'} </span>
            {figureAmount(figure, value)}
          </li>
        ))}
      </ol>
    </div>
  )
}
