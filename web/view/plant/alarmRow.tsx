import type { AlarmView } from '../../../server/wire/alarm.ts'
import type { AlarmRequests, RequestState } from '../../connect/acknowledge.ts'
import { dayTime } from '../../format/time.ts'
import { alarmStateWords, isUnacknowledged } from '../../format/words.ts'
import { SimStamp } from '../parts/panel.tsx'
import { PriorityShape } from '../parts/shapes.tsx'
import { alarmNumber, limitText } from './alarmText.ts'
import type { PlantProps } from './plantProps.ts'

type AlarmRowProps = PlantProps & { alarm: AlarmView; requests: AlarmRequests }

export function AlarmRow({ alarm, requests, hold, open }: AlarmRowProps) {
  const isOpen = isUnacknowledged(alarm.state)
  const figure = hold.byId.get(alarm.figure)
  const peak = alarm.peak ?? alarm.value
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
        <p class="alarm-value">
          {figure && (
            <button type="button" class="as-link" onClick={() => open(alarm.figure)}>
              {figure.description.name}
            </button>
          )}
          {peak !== null && (
            <span>
              {' '}
              peak <b>{alarmNumber(alarm, peak, hold)}</b>,
            </span>
          )}{' '}
          <span class="nowrap">{limitText(alarm, hold)}</span>
        </p>
        <AlarmTimes alarm={alarm} zone={hold.view.timeZone} />
        <AlarmHelp alarm={alarm} />
        <RequestLine state={requests.states.value.get(alarm.id)} />
      </div>
      <AlarmButton alarm={alarm} requests={requests} />
    </li>
  )
}

function stateText({ state, active, unknown }: AlarmView): string {
  const words = unknown ? ['Cannot be judged: the input is missing or bad'] : []
  if (state !== 'normal') words.unshift(alarmStateWords[state], active ? 'active' : 'no longer active')
  return words.join(' · ')
}

function AlarmTimes({ alarm, zone }: { alarm: AlarmView; zone: string }) {
  return (
    <p class="alarm-times">
      {alarm.raisedAt !== null && <span>raised {dayTime(alarm.raisedAt, zone)}</span>}
      {alarm.acknowledgedAt !== null && (
        <span>
          acknowledged {dayTime(alarm.acknowledgedAt, zone)}
          {alarm.acknowledgedBy && ` by ${alarm.acknowledgedBy}`}
        </span>
      )}
    </p>
  )
}

/** What to do, from the plant file. */
function AlarmHelp({ alarm: { cause, consequence, action } }: { alarm: AlarmView }) {
  if (!cause && !consequence && !action) return null
  return (
    <details class="fold">
      <summary>What to do</summary>
      <dl class="alarm-help">
        {action && <HelpLine word="Do" text={action} />}
        {cause && <HelpLine word="Cause" text={cause} />}
        {consequence && <HelpLine word="Otherwise" text={consequence} />}
      </dl>
    </details>
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

function AlarmButton({ alarm, requests }: Pick<AlarmRowProps, 'alarm' | 'requests'>) {
  const request = buttonFor(alarm)
  if (!request) return null
  const step = requests.states.value.get(alarm.id)?.step
  const isUnderWay = step === 'sending' || step === 'waiting'
  const word = request === 'acknowledge' ? 'Acknowledge' : 'Reset'
  return (
    <button
      type="button"
      class="press"
      data-action={request}
      aria-disabled={isUnderWay}
      aria-label={`${word} ${alarm.name}`}
      onClick={() => void requests.send(alarm.id, request)}
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
