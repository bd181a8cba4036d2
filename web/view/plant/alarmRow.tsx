import type { AlarmView } from '../../../server/wire/alarm.ts'
import type { AlarmRequests, RequestState } from '../../connect/acknowledge.ts'
import { person, refusalOf } from '../../connect/person.ts'
import { alarmStateWords, isUnacknowledged } from '../../format/words.ts'
import { SimStamp } from '../parts/panel.tsx'
import { PriorityShape } from '../parts/shapes.tsx'
import { AlarmTimes, AlarmValue } from './alarmFacts.tsx'
import type { PlantProps } from './plantProps.ts'

type AlarmRowProps = PlantProps & { alarm: AlarmView; requests: AlarmRequests }

export function AlarmRow({ alarm, requests, hold, session, open }: AlarmRowProps) {
  const isOpen = isUnacknowledged(alarm.state)
  return (
    <li
      class={isOpen ? 'alarm alarm-open' : 'alarm'}
      data-alarm={alarm.id}
      data-alarm-state={alarm.state}
      data-priority={alarm.priority}
    >
      <PriorityShape priority={alarm.priority} flashes={isOpen} />
      <div class="alarm-words">
        <p class="alarm-name">
          {alarm.name}
          {alarm.simulated && <SimStamp />}
        </p>
        <p class="alarm-state">{stateText(alarm)}</p>
        <AlarmTimes alarm={alarm} zone={hold.view.timeZone} />
        <AlarmValue alarm={alarm} hold={hold} session={session} open={open} />
        <AlarmHelp alarm={alarm} />
        <RequestLine state={requests.states.value.get(alarm.id)} />
        <RightLine alarm={alarm} />
      </div>
      <AlarmButton alarm={alarm} requests={requests} />
    </li>
  )
}

function stateText({ state, active, unknown }: AlarmView): string {
  if (state === 'normal')
    return unknown ? 'Cannot be judged: its input is missing or bad' : alarmStateWords[state]
  const activity = active ? 'active' : 'no longer active'
  if (state === 'returnedUnacknowledged' && !unknown) return alarmStateWords[state]
  const lost = `${active ? 'was active' : 'was no longer active'} before its input was lost`
  return `${alarmStateWords[state]} · ${unknown ? lost : activity}`
}

/** What to do in view, why it came a line further; both from the plant file. */
function AlarmHelp({ alarm: { cause, consequence, action } }: { alarm: AlarmView }) {
  return (
    <>
      {action && (
        <p class="alarm-action">
          <b>Do:</b> {action}
        </p>
      )}
      {(cause || consequence) && (
        <details class="fold">
          <summary>Cause and consequence</summary>
          <dl class="alarm-help">
            {cause && <HelpLine word="Cause" text={cause} />}
            {consequence && <HelpLine word="Otherwise" text={consequence} />}
          </dl>
        </details>
      )}
    </>
  )
}

function HelpLine({ word, text }: { word: string; text: string }) {
  return (
    <div>
      <dt>{word}</dt>
      <dd>{text}</dd>
    </div>
  )
}

function RequestLine({ state }: { state: RequestState | undefined }) {
  if (!state || state.step === 'sending') return null
  const text =
    state.step === 'failed'
      ? `Not done: ${state.error}`
      : 'Not sent yet: no connection. It will be sent when the connection is back.'
  return (
    <p class="alarm-request" role="status">
      {text}
    </p>
  )
}

/** Why the button does nothing, where a person's role is not enough. */
function RightLine({ alarm }: { alarm: AlarmView }) {
  const request = buttonFor(alarm)
  const reason = request && refusalOf(request)
  if (!reason || !person.value?.name) return null
  return (
    <p class="quiet" id={`right-${alarm.id}`}>
      {reason}
    </p>
  )
}

function AlarmButton({ alarm, requests }: Pick<AlarmRowProps, 'alarm' | 'requests'>) {
  const request = buttonFor(alarm)
  if (!request) return null
  const step = requests.states.value.get(alarm.id)?.step
  const isUnderWay = step === 'sending' || step === 'waiting'
  const word = request === 'acknowledge' ? 'Acknowledge' : 'Reset'
  const reason = refusalOf(request)
  if (reason && !person.value?.name)
    return (
      <a class="press" href="#/sign-in" data-action="signIn" aria-label={`${reason} ${alarm.name}`}>
        {reason}
      </a>
    )
  return (
    <button
      type="button"
      class="press"
      data-action={request}
      aria-disabled={isUnderWay || reason !== null}
      aria-describedby={reason === null ? undefined : `right-${alarm.id}`}
      aria-label={`${word} ${alarm.name}`}
      onClick={() => reason === null && void requests.send(alarm.id, request)}
    >
      {step === 'sending' ? 'Sending…' : step === 'waiting' ? 'Waiting…' : word}
    </button>
  )
}

/** A latched alarm is reset after it was acknowledged and its condition is gone. */
function buttonFor(alarm: AlarmView): 'acknowledge' | 'reset' | null {
  if (isUnacknowledged(alarm.state)) return 'acknowledge'
  return alarm.state === 'latchedAcknowledged' && !alarm.active ? 'reset' : null
}
