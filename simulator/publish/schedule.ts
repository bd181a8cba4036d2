import type { Instrument } from '../../server/plant/plant.ts'
import type { SensorOutput } from '../sensors/faults.ts'
import type { Sensor } from '../sensors/sensor.ts'
import { encode, type OutMessage, type Part } from './encode.ts'
import { scaleBack } from './scaleBack.ts'

/** True value now and, where it is tracked, highest value since the last time of asking [SI]. */
export type TruthOf = (quantity: string) => { value: number; peak?: number }

interface Group {
  topic: string
  sensors: Sensor[]
  periodMs: number
  isPeriodic: boolean
  nextAt: number
  sampledAt: number
  lastPayload: string | undefined
}

/**
 * Decides what is due and writes it. Instruments that share a topic share a message. Periodic ones send at their
 * period, contacts on change.
 */
export function createSchedule(sensors: readonly Sensor[]) {
  const groups = groupByTopic(sensors)
  return {
    /** @param now Wall clock [ms UTC]; periods are counted on it. */
    due(now: number, truthOf: TruthOf): OutMessage[] {
      return groups.flatMap((group) =>
        group.isPeriodic ? periodic(group, now, truthOf) : onChange(group, now, truthOf),
      )
    },
    /** Everything is due with the next call, as for a broker that knows nothing yet. */
    startOver(): void {
      for (const group of groups) {
        group.lastPayload = undefined
        group.nextAt = Number.NEGATIVE_INFINITY
      }
    },
  }
}

function groupByTopic(sensors: readonly Sensor[]): Group[] {
  const topics = new Set(sensors.map(({ instrument }) => instrument.topic))
  return [...topics].map((topic) => {
    const own = sensors.filter(({ instrument }) => instrument.topic === topic)
    return {
      topic,
      sensors: own,
      periodMs: Math.min(...own.map(({ instrument }) => instrument.periodMs)),
      isPeriodic: own[0]!.instrument.periodic,
      nextAt: Number.NEGATIVE_INFINITY,
      sampledAt: Number.NEGATIVE_INFINITY,
      lastPayload: undefined,
    }
  })
}

function periodic(group: Group, now: number, truthOf: TruthOf): OutMessage[] {
  if (now < group.nextAt) return []
  // Keeps the beat, unless it has been lost by more than one period.
  group.nextAt = now - group.nextAt > group.periodMs ? now + group.periodMs : group.nextAt + group.periodMs
  const parts = sample(group, now, truthOf)
  return parts.length === 0 ? [] : [{ topic: group.topic, payload: encode(parts, now), retain: false }]
}

function onChange(group: Group, now: number, truthOf: TruthOf): OutMessage[] {
  const parts = sample(group, now, truthOf)
  if (parts.length === 0) return []
  const payload = encode(parts, now)
  // The time in a payload is no change.
  const content = encode(parts, 0)
  if (content === group.lastPayload) return []
  group.lastPayload = content
  return [{ topic: group.topic, payload, retain: true }]
}

function sample(group: Group, now: number, truthOf: TruthOf): Part[] {
  const elapsed = Number.isFinite(group.sampledAt) ? (now - group.sampledAt) / 1000 : 0
  group.sampledAt = now
  return group.sensors.flatMap((sensor) => {
    const output = sensor.sample(truthOf(sensor.instrument.quantity), elapsed)
    return output === undefined ? [] : [partOf(sensor.instrument, output)]
  })
}

function partOf(instrument: Instrument, output: NonNullable<SensorOutput>): Part {
  if ('text' in output) return { instrument, value: output.text }
  if ('raw' in output) return { instrument, value: output.raw }
  const value = scaleBack(instrument, output.value)
  return output.peak === undefined
    ? { instrument, value }
    : { instrument, value, peak: scaleBack(instrument, output.peak) }
}
