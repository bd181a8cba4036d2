import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import type { EventChannel, EventRecord, EventStatus, EventSummary } from '../../../server/wire/event.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { unitView } from '../../../server/wire/units.ts'
import type { Connection } from '../../connect/connection.ts'
import { http } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { clockTime, dayTime } from '../../format/time.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Chart, eventChart } from '../parts/chart.tsx'
import { Panel } from '../parts/panel.tsx'

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
    <Panel id="events" title="Events" count={`${list?.length ?? 0} kept in view`}>
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

/** What is drawn, in this order; a plant has some of them. */
const DRAWN = ['speed', 'frequency', 'activePower', 'phaseVoltage.1']

function EventTraces({ record }: { record: EventRecord }) {
  const drawn = DRAWN.flatMap((quantity) => record.channels.find((one) => one.quantity === quantity) ?? [])
  const span: [number, number] = [
    (record.from - record.at) / 1000,
    Math.max(1, (record.to - record.at) / 1000),
  ]
  return (
    <div class="event-traces">
      {drawn
        .filter((channel) => channel.at.length > 1)
        .map((channel) => (
          <Trace
            key={channel.quantity}
            channel={channel}
            span={span}
            version={`${record.id}${record.status}`}
          />
        ))}
    </div>
  )
}

interface TraceProps {
  channel: EventChannel
  span: [number, number]
  version: string
}

function Trace({ channel, span, version }: TraceProps) {
  const unit = unitView(channel.unit, channel.viewUnit)
  const line = useMemo(
    () => ({ at: channel.at.map((ms) => ms / 1000), value: channel.value.map(unit.value), span }),
    [version],
  )
  const low = formatNumber(Math.min(...line.value)).text
  const high = formatNumber(Math.max(...line.value)).text
  const words = `${channel.name}: ${low} to ${high} ${unit.print}`
  return (
    <figure class="event-trace">
      <figcaption>
        {channel.name} <span class="unit">{unit.print}</span>{' '}
        <span class="quiet">
          {low} … {high}
          {channel.dropped > 0 && `, ${channel.dropped} samples left out`}
        </span>
      </figcaption>
      <Chart kind={eventChart} drawn={line} label={words} class="event-canvas" />
    </figure>
  )
}
