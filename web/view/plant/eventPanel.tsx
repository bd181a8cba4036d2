import { useSignal } from '@preact/signals'
import type { EventRecord, EventStatus, EventSummary } from '../../../server/wire/event.ts'
import type { Connection } from '../../connect/connection.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { clockTime, dayTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Panel } from '../parts/panel.tsx'
import { EventTraces } from './eventTraces.tsx'

const EVERY_MS = 30_000

const STATUS_WORDS: Record<EventStatus, string> = {
  begun: 'being recorded',
  complete: '',
  cut: 'cut: the server ended before the record did',
}

interface EventsProps {
  hold: PlantHold
  connection: Connection
}

/** Over-speed and trips with what went before and what followed, newest first. */
export function EventPanel({ hold, connection }: EventsProps) {
  const plant = hold.view.id
  const changes = hold.alarms.value.map((alarm) => alarm.raisedAt).join()
  const events = usePolled(() => http.events(plant), EVERY_MS, [plant, connection.joins.value, changes])
  const list = events.reply.value
  return (
    <Panel id="events" title="Events" aside={<span class="count">{list?.length ?? 0} kept in view</span>}>
      {events.error.value && <p class="quiet">Not read: {events.error.value}</p>}
      {list?.length === 0 && <p class="quiet">No over-speed and no trip has been recorded.</p>}
      <ul class="lines small events">
        {list?.map((event) => (
          <EventLine key={event.id} event={event} zone={hold.view.timeZone} />
        ))}
      </ul>
    </Panel>
  )
}

function EventLine({ event, zone }: { event: EventSummary; zone: string }) {
  const isOpen = useSignal(false)
  return (
    <li data-event={event.id} data-status={event.status}>
      <details
        class="fold"
        onToggle={(toggle) => {
          isOpen.value = toggle.currentTarget.open
        }}
      >
        <summary>
          <time class="number">{dayTime(event.at, zone)}</time> <b>{event.story[0] ?? event.name}</b>
          {STATUS_WORDS[event.status] && <span class="quiet"> ({STATUS_WORDS[event.status]})</span>}
        </summary>
        {isOpen.value && <EventDetails event={event} zone={zone} />}
      </details>
    </li>
  )
}

function EventDetails({ event, zone }: { event: EventSummary; zone: string }) {
  const read = usePolled(() => http.event(event.plant, event.id), EVERY_MS, [event.id, event.status])
  const record = read.reply.value
  if (!record) return <p class="quiet">{read.error.value ?? 'Reading…'}</p>
  return (
    <>
      <ul class="event-story">
        {record.story.slice(1).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <EventTraces record={record} />
      <EventOrder record={record} zone={zone} />
      <a href={http.eventCsv(event.plant, event.id)} download>
        All samples as CSV
      </a>
    </>
  )
}

/** First-out: what came and went, in the order of measurement. */
function EventOrder({ record, zone }: { record: EventRecord; zone: string }) {
  if (record.order.length === 0) return null
  return (
    <ol class="event-order">
      {record.order.map((step, i) => (
        <li key={`${step.alarm}-${step.at}`}>
          <span class="number muted">
            {clockTime(step.at, zone)} ({((step.at - record.at) / 1000).toFixed(2)} s)
          </span>{' '}
          {i === 0 ? <b>{step.name}</b> : step.name} {step.came ? 'came' : 'went'}
        </li>
      ))}
    </ol>
  )
}
