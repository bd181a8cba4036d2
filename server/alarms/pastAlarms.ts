import type { Reading } from '../ingest/reading.ts'
import type { Alarm, Step } from './alarm.ts'
import type { EventTrace } from './events/recorder.ts'
import { LATE_LIMIT_MS, type RawSample, sampleOf } from './inputs.ts'

/** Judges readings that came long after they were measured: what they tell is past, and told once. */
export interface PastAlarms {
  /** Whether the reading is of the past for alarms that want every reading. */
  take(reading: Reading): boolean
  tick(): void
}

export interface PastAlarmsOptions {
  /** Alarms that watch a quantity. */
  watching(quantity: string): readonly Alarm[]
  /** Whether it was told already that the condition held about then. */
  wasTold(alarm: string, at: number): boolean
  record(alarm: Alarm, step: Step): void
  mono(): number
  /** Keeps records of what is past; not the one of what goes on. */
  trace?: EventTrace | undefined
}

/** Moments that are nearer [ms] to each other are of one event. */
const SAME_EVENT_MS = 60_000
/** A record ends when nothing of the past has come for so long [ms]. */
const QUIET_MS = 5000

export function createPastAlarms(options: PastAlarmsOptions): PastAlarms {
  const { watching, wasTold, record, mono, trace } = options
  /** Span that was told last, by alarm: a buffer brings many readings of one event, and may be sent twice. */
  const told = new Map<Alarm, { from: number; to: number }>()
  let lastMono = Number.POSITIVE_INFINITY

  function judge(alarm: Alarm, sample: RawSample): void {
    const found = alarm.judgePast(sample)
    if (!found) return
    const { at } = found
    const known = told.get(alarm)
    const isSame = known && at >= known.from - SAME_EVENT_MS && at <= known.to + SAME_EVENT_MS
    if (known && isSame) {
      told.set(alarm, { from: Math.min(known.from, at), to: Math.max(known.to, at) })
      return
    }
    told.set(alarm, { from: at, to: at })
    if (wasTold(alarm.setting.id, at)) return
    trace?.condition(alarm.setting, { isPresent: true, at, value: found.value })
    for (const step of alarm.tellPast(found, sample.receivedAt)) record(alarm, step)
  }

  return {
    take(reading) {
      if (!reading.overdue || reading.ageUnknown || reading.receivedAt - reading.measuredAt <= LATE_LIMIT_MS)
        return false
      const sample = sampleOf(reading)
      const alarms = watching(sample.quantity).filter((alarm) => alarm.takesLate)
      if (alarms.length === 0) return false
      lastMono = mono()
      trace?.take(sample)
      for (const alarm of alarms) judge(alarm, sample)
      return true
    },
    tick() {
      if (mono() - lastMono < QUIET_MS) return
      lastMono = Number.POSITIVE_INFINITY
      trace?.tick(Number.POSITIVE_INFINITY)
    },
  }
}
