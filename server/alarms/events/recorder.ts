import type { EventChannel, EventRecord, EventStatus } from '../../wire/event.ts'
import type { RawSample } from '../inputs.ts'
import type { AlarmSetting } from '../kinds/kind.ts'
import {
  AMOUNT_CAPACITY,
  createTraceRing,
  MOST_SAMPLES,
  STATE_CAPACITY,
  type TracedChannel,
} from './traces.ts'

/** A record reaches from this long [ms] before the alarm to this long after it. */
export const BEFORE_MS = 10_000
export const AFTER_MS = 60_000
/** Readings may be this late [ms] and still belong to the record. */
const SLACK_MS = 1000
/** A begun record is stored this often [ms], so that little is lost when the server is killed. */
const SAVE_EVERY_MS = 5000
const MOST_STEPS = 500

/** A condition that came or went. */
export interface ConditionChange {
  isPresent: boolean
  /** Time of measurement [ms UTC]. */
  at: number
  value: number | null
}

/** In the order of arrival; a late one lies before what came before it. */
type TracedSample = Pick<RawSample, 'quantity' | 'at' | 'value'>

/** What the alarms tell the recorder. */
export interface EventTrace {
  take(sample: TracedSample): void
  condition(setting: AlarmSetting, change: ConditionChange): void
  tick(now: number): void
  /** Ends an open record, which is then marked as cut. */
  close(): void
}

/** A record without what is worked out from it. */
export type RawRecord = Omit<EventRecord, 'story' | 'peak' | 'levels'>

export interface RecorderOptions {
  plant: { id: string; simulated: boolean }
  channels: readonly TracedChannel[]
  /** Stores the record as it is now; called every few seconds and at the end. */
  save(record: RawRecord): void
}

type OrderStep = EventRecord['order'][number]

/**
 * Keeps the last seconds of speed, power and states in rings and, when over-speed or a trip is raised, a record of
 * what went before and what followed. It does so whether or not the alarm is shelved.
 */
export function createEventRecorder({ plant, channels, save }: RecorderOptions): EventTrace {
  const rings = new Map(
    channels.map(({ quantity, discrete }) => [
      quantity,
      createTraceRing(discrete ? STATE_CAPACITY : AMOUNT_CAPACITY),
    ]),
  )
  let recent: OrderStep[] = []
  let open: RawRecord | undefined
  let openChannels = new Map<string, EventChannel>()
  let savedAt = 0

  function begin({ id, name }: AlarmSetting, at: number): void {
    const from = at - BEFORE_MS
    const traced = channels.map((channel) => channelSince(channel, from, at))
    openChannels = new Map(traced.map((channel) => [channel.quantity, channel]))
    open = {
      id: `${plant.id}-${Math.round(at)}`,
      plant: plant.id,
      simulated: plant.simulated,
      alarm: id,
      name,
      at,
      from,
      to: at,
      status: 'begun',
      channels: traced,
      order: recent.filter((step) => step.at >= from),
    }
    savedAt = at
    save(open)
  }

  function channelSince(channel: TracedChannel, from: number, at: number): EventChannel {
    const found = rings.get(channel.quantity)!.since(from, channel.discrete)
    return { ...channel, at: found.at.map((time) => time - at), value: found.value, dropped: 0 }
  }

  function append(record: RawRecord, { quantity, at, value }: TracedSample): void {
    const channel = openChannels.get(quantity)!
    if (at > record.at + AFTER_MS) return
    if (channel.at.length >= MOST_SAMPLES) channel.dropped++
    else {
      channel.at.push(at - record.at)
      channel.value.push(value)
    }
    record.from = Math.min(record.from, at)
    record.to = Math.max(record.to, at)
  }

  function end(status: EventStatus): void {
    if (!open) return
    save({ ...open, status })
    open = undefined
    openChannels = new Map()
  }

  return {
    take(sample) {
      const ring = rings.get(sample.quantity)
      if (!ring) return
      ring.add(sample.at, sample.value)
      if (open) append(open, sample)
    },
    condition(setting, { isPresent, at }) {
      const step = { alarm: setting.id, name: setting.name, at, came: isPresent }
      recent = [...recent.filter((one) => one.at >= at - BEFORE_MS).slice(-MOST_STEPS), step]
      if (open && open.order.length < MOST_STEPS) open.order.push(step)
      if (!open && isPresent && setting.isRecorded) begin(setting, at)
    },
    tick(now) {
      if (!open) return
      if (now >= open.at + AFTER_MS + SLACK_MS) end('complete')
      else if (Math.abs(now - savedAt) >= SAVE_EVERY_MS) {
        savedAt = now
        save(open)
      }
    },
    close: () => end('cut'),
  }
}
