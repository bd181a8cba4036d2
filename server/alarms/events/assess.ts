import { ratedOf } from '../../derive/describe.ts'
import { witnessesOf } from '../../derive/witnesses.ts'
import type { Plant } from '../../plant/plant.ts'
import type { EventChannel, EventPeak, EventRecord } from '../../wire/event.ts'
import type { RawRecord } from './recorder.ts'
import { tellEvent } from './story.ts'

/** Shares of the rated speed whose times decide whether a machine has to be inspected. */
const LEVELS = [1.05, 1.1, 1.2, 1.5]

interface SpeedTrace {
  witness: string
  /** Milliseconds from the event. */
  at: number[]
  /** [rad/s] */
  speed: number[]
}

/** Works out peak, times above levels, first-out order and the story of a record. Pure. */
export function assessEvent(raw: RawRecord, plant: Plant): EventRecord {
  const record = { ...raw, channels: raw.channels.map(inOrder) }
  const rated = ratedOf('speed', plant)
  const told = speedTraces(record, plant).reduce<SpeedTrace | undefined>(
    (best, one) => (best === undefined || highest(one) > highest(best) ? one : best),
    undefined,
  )
  const peak = told === undefined ? null : peakOf(told, record.at, rated)
  const levels =
    told === undefined || rated === undefined
      ? []
      : LEVELS.map((share) => ({ share, seconds: secondsAbove(told, share * rated) }))
  const order = [...record.order].sort((a, b) => a.at - b.at)
  const assessed: EventRecord = { ...record, order, peak, levels, story: [] }
  return { ...assessed, story: tellEvent(assessed, plant.site.timeZone) }
}

/** By time of measurement: what came late stands where it belongs. */
function inOrder(channel: EventChannel): EventChannel {
  const { at, value } = channel
  if (at.every((time, i) => i === 0 || time >= at[i - 1]!)) return channel
  const places = at.map((_, i) => i).sort((a, b) => at[a]! - at[b]!)
  return { ...channel, at: places.map((i) => at[i]!), value: places.map((i) => value[i]!) }
}

/** Every independent way to the speed that has samples: a stuck tachometer must not hide the peak. */
function speedTraces({ channels }: RawRecord, plant: Plant): SpeedTrace[] {
  return witnessesOf(plant).flatMap(({ quantity, name, toSpeed }) => {
    const channel = channels.find((one) => one.quantity === quantity)
    if (!channel || channel.at.length === 0) return []
    return [{ witness: name, at: channel.at, speed: channel.value.map(toSpeed) }]
  })
}

function highest({ speed }: SpeedTrace): number {
  return speed.reduce((most, one) => Math.max(most, one), Number.NEGATIVE_INFINITY)
}

function peakOf(trace: SpeedTrace, at: number, rated: number | undefined): EventPeak {
  const speed = highest(trace)
  return {
    speed,
    share: rated === undefined ? null : speed / rated,
    at: at + trace.at[trace.speed.indexOf(speed)]!,
    witness: trace.witness,
  }
}

/**
 * Time at or above a level, with straight lines between samples; nothing is counted after the last one.
 *
 * Example: 0 s 100, 1 s 120, 2 s 100 above 110 → 1 s.
 */
export function secondsAbove({ at, speed }: Pick<SpeedTrace, 'at' | 'speed'>, level: number): number {
  let ms = 0
  for (let i = 1; i < at.length; i++) {
    const low = Math.min(speed[i - 1]!, speed[i]!)
    const high = Math.max(speed[i - 1]!, speed[i]!)
    const span = at[i]! - at[i - 1]!
    if (span <= 0 || high < level) continue
    ms += low >= level ? span : (span * (high - level)) / (high - low)
  }
  return ms / 1000
}
