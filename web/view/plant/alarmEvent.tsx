import { refusalOf } from '../../connect/person.ts'
import { counted } from '../../format/words.ts'
import { Button } from '../parts/button.tsx'
import type { ListedEvent } from './alarmGroups.ts'
import { type AlarmListProps, AlarmRow, RequestLine } from './alarmRow.tsx'

/** Alarms of one event: what came first as its name, one press for all of it, what followed folded below. */
export function AlarmEvent({ event, list }: { event: ListedEvent; list: AlarmListProps }) {
  const { episode, heads, followers } = event
  const rows = (alarms: typeof heads) =>
    alarms.map((alarm) => <AlarmRow key={alarm.id} alarm={alarm} {...list} />)
  if (!episode) return <>{rows(heads)}</>
  return (
    <li class="alarm-event" data-episode={episode.id}>
      <div class="alarm-event-head">
        <p class="alarm-name">{episode.headline}</p>
        <AcknowledgeAll event={event} list={list} />
      </div>
      <ul class="alarms">{rows(heads)}</ul>
      {followers.length > 0 && (
        <details class="fold">
          <summary>{counted(followers.length, 'alarm')} followed from it</summary>
          <ul class="alarms">{rows(followers)}</ul>
        </details>
      )}
    </li>
  )
}

/** Each alarm is acknowledged by itself, with a line of its own in the journal. */
function AcknowledgeAll({
  event: { episode },
  list: { requests },
}: {
  event: ListedEvent
  list: AlarmListProps
}) {
  if (!episode || episode.unacknowledged < 2 || refusalOf('acknowledge') !== null) return null
  const state = requests.states.value.get(episode.id)
  const step = state?.step
  return (
    <>
      <Button
        action="acknowledgeAll"
        aria-disabled={step === 'sending' || step === 'waiting'}
        onClick={() => void requests.sendAll(episode)}
      >
        {step === 'sending'
          ? 'Sending…'
          : step === 'waiting'
            ? 'Waiting…'
            : `Acknowledge all ${episode.unacknowledged}`}
      </Button>
      <RequestLine state={state} />
    </>
  )
}
