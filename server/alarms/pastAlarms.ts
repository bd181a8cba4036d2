import type { Reading } from '../ingest/reading.ts'
import type { Alarm, PastCondition, Step } from './alarm.ts'
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
/**
 * So long [ms] it is waited for what shows that a clock was set back (ingest/clockWatch.ts): then it is of now, and is told as
 * what goes on.
 */
const CLOCK_MS = 2000
/** Beyond so many the oldest is told at once. */
const MOST_WAITING = 100
/** A record ends when nothing of the past has come for so long [ms]. */
const QUIET_MS = 5000

interface Found {
  alarm: Alarm
  found: PastCondition
  toldAt: number
  /** When it was found. */
  mono: number
  /** It stood then, as what goes on. */
  wasPresent: boolean
}

export function createPastAlarms(options: PastAlarmsOptions): PastAlarms {
  const { watching, wasTold, record, mono, trace } = options
  /** Span that was told last, by alarm: a buffer brings many readings of one event, and may be sent twice. */
  const told = new Map<Alarm, { from: number; to: number }>()
  let lastMono = Number.POSITIVE_INFINITY
  let waiting: Found[] = []

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
    waiting.push({ alarm, found, toldAt: sample.receivedAt, mono: mono(), wasPresent: alarm.isPresent() })
    if (waiting.length > MOST_WAITING) tell(waiting.shift()!)
    trace?.condition(alarm.setting, { isPresent: true, at, value: found.value })
  }

  function tell({ alarm, found, toldAt, wasPresent }: Found): void {
    if (alarm.isPresent() && !wasPresent) return
    for (const step of alarm.tellPast(found, toldAt)) record(alarm, step)
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
      const due = waiting.filter((one) => mono() - one.mono >= CLOCK_MS)
      waiting = waiting.filter((one) => !due.includes(one))
      for (const one of due) tell(one)
      if (mono() - lastMono < QUIET_MS) return
      lastMono = Number.POSITIVE_INFINITY
      trace?.tick(Number.POSITIVE_INFINITY)
    },
  }
}
