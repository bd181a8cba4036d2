import { useMemo } from 'preact/hooks'
import type { EventChannel, EventRecord } from '../../../server/wire/event.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { unitView } from '../../../server/wire/units.ts'
import { Chart, eventChart } from '../parts/chart.tsx'

/** What is drawn, in this order; a plant has some of them. */
const DRAWN = ['speed', 'frequency', 'activePower', 'phaseVoltage.1']

export function EventTraces({ record }: { record: EventRecord }) {
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
