import type { Action } from '../../../server/wire/access.ts'
import { type AlarmView, isUnacknowledged } from '../../../server/wire/alarm.ts'
import type { AlarmRequests, RequestState } from '../../connect/acknowledge.ts'
import { person, refusalOf } from '../../connect/person.ts'
import { clockTime, dayTime } from '../../format/time.ts'
import { alarmStateWords } from '../../format/words.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { Button, FigureLink } from '../parts/button.tsx'
import { Fact } from '../parts/fact.tsx'
import { figureText, QualityMark } from '../parts/figureNumber.tsx'
import { useLastKnown } from '../parts/ground.tsx'
import { SimStamp } from '../parts/panel.tsx'
import { PriorityShape } from '../parts/shapes.tsx'
import { address } from '../screens.ts'
import { AlarmShelf } from './alarmShelf.tsx'
import { alarmNumber, isDiscrete, limitText } from './alarmText.ts'
import type { PlantProps } from './plantProps.ts'

export type AlarmListProps = PlantProps & { requests: AlarmRequests }

type AlarmRowProps = AlarmListProps & { alarm: AlarmView }

export function AlarmRow({ alarm, requests, hold, open }: AlarmRowProps) {
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
        <FirstOut alarm={alarm} hold={hold} />
        <WithheldLine alarm={alarm} zone={hold.view.timeZone} />
        <AlarmTimes alarm={alarm} zone={hold.view.timeZone} />
        <AlarmValue alarm={alarm} hold={hold} open={open} />
        <AlarmHelp alarm={alarm} />
        <AlarmShelf alarm={alarm} requests={requests} />
        <RequestLine state={requests.states.value.get(alarm.id)} />
        <RightLine alarm={alarm} />
      </div>
      <AlarmButton alarm={alarm} requests={requests} />
    </li>
  )
}

/** First-out: what this one followed, so that nobody chases a consequence. */
function FirstOut({ alarm, hold }: { alarm: AlarmView; hold: PlantProps['hold'] }) {
  const followers = hold.alarms.value.filter((one) => one.after === alarm.id && one.state !== 'normal').length
  const first = hold.alarms.value.find((one) => one.id === alarm.after)
  if (first && alarm.state !== 'normal')
    return (
      <p class="first-out">
        Followed {first.name}
        {alarm.because !== null && `: ${alarm.because}`}
      </p>
    )
  if (followers === 0 || alarm.state === 'normal') return null
  return (
    <p class="first-out" data-first-out>
      <b>Came first</b>; {followers} followed
    </p>
  )
}

function WithheldLine({ alarm, zone }: { alarm: AlarmView; zone: string }) {
  const { withheld, shelvedUntil } = alarm
  if (!withheld) return null
  return (
    <p class="muted number" data-withheld-by={withheld.by}>
      since {dayTime(withheld.at, zone)} by {withheld.by}
      {shelvedUntil !== null && `, until ${dayTime(shelvedUntil, zone)}`}: {withheld.reason}
    </p>
  )
}

function stateText({ state, active, unknown }: AlarmView): string {
  if (state === 'shelved' || state === 'outOfService') {
    const condition = unknown
      ? 'cannot be judged'
      : active
        ? 'its condition holds'
        : 'its condition does not hold'
    return `${alarmStateWords[state]} · ${condition}`
  }
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
            {cause && <Fact word="Cause">{cause}</Fact>}
            {consequence && <Fact word="Otherwise">{consequence}</Fact>}
          </dl>
        </details>
      )}
    </>
  )
}

export function RequestLine({ state }: { state: RequestState | undefined }) {
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
  const reason = request && refusalOf(rightFor(request))
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
  const word = BUTTON_WORDS[request]
  const reason = refusalOf(rightFor(request))
  if (reason && !person.value?.name)
    return (
      <a
        class="press"
        href={address({ screen: 'sign-in' })}
        data-action="signIn"
        aria-label={`${reason} ${alarm.name}`}
      >
        {reason}
      </a>
    )
  return (
    <Button
      action={request}
      aria-disabled={isUnderWay || reason !== null}
      aria-describedby={reason === null ? undefined : `right-${alarm.id}`}
      aria-label={`${word} ${alarm.name}`}
      onClick={() => reason === null && void requests.send(alarm.id, request)}
    >
      {step === 'sending' ? 'Sending…' : step === 'waiting' ? 'Waiting…' : word}
    </Button>
  )
}

const BUTTON_WORDS = { acknowledge: 'Acknowledge', reset: 'Reset', unshelve: 'Unshelve' } as const

/** Whoever may shelve may end it. */
function rightFor(request: keyof typeof BUTTON_WORDS): Action {
  return request === 'unshelve' ? 'shelve' : request
}

/** A latched alarm is reset after it was acknowledged and its condition is gone. */
function buttonFor(alarm: AlarmView): keyof typeof BUTTON_WORDS | null {
  if (alarm.state === 'shelved') return 'unshelve'
  if (isUnacknowledged(alarm.state)) return 'acknowledge'
  return alarm.state === 'latchedAcknowledged' && !alarm.active ? 'reset' : null
}

/** How far it went, and when. */
function AlarmValue({ alarm, hold, open }: Omit<PlantProps, 'connection'> & { alarm: AlarmView }) {
  const figure = hold.byId.get(alarm.figure)
  const peak = alarm.peak ?? alarm.value
  const hasPeak = peak !== null && !isDiscrete(alarm, hold)
  return (
    <p class="alarm-value">
      {figure && (
        <FigureLink figure={alarm.figure} open={open}>
          {figure.description.name}
        </FigureLink>
      )}
      {hasPeak && (
        <>
          {' '}
          reached <b>{alarmNumber(alarm, peak, hold)}</b>
          {alarm.peakAt !== null && ` at ${clockTime(alarm.peakAt, hold.view.timeZone)}`},
        </>
      )}{' '}
      {limitText(alarm, hold)}
      {figure && <Now figure={figure} isFirst={!hasPeak} />}
      {alarm.detail && <span class="alarm-detail">; {alarm.detail}</span>}
    </p>
  )
}

/** Of its own: it is drawn anew with every value. */
function Now({ figure, isFirst }: { figure: FigureHold; isFirst: boolean }) {
  const isOld = useLastKnown() !== null
  const value = figure.value.value
  const { text } = figureText(figure, value)
  return (
    <>
      {isFirst ? ' ' : ', '}
      <span class="nowrap">
        {isOld || value.quality === 'bad' ? 'last' : 'now'} {text} {figure.unit.print}
        <QualityMark value={value} />
      </span>
    </>
  )
}

/** When it came and who has answered it. */
function AlarmTimes({ alarm, zone }: { alarm: AlarmView; zone: string }) {
  return (
    <p class="muted number dotted">
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
