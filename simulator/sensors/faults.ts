import type { Random } from '../random.ts'

/** What an instrument sends: a value in its unit, a raw number, a text, or nothing at all. */
export type SensorOutput = { value: number; peak?: number } | { raw: number } | { text: string } | undefined

export interface FaultContext {
  /** What the sound instrument would read. */
  reading: { value: number; peak?: number }
  /** What it read when the fault began. */
  first: number
  /** Since the fault began [s]. */
  elapsed: number
  /** High less low end of the range, or the reading's own size where there is no range. */
  span: number
  random: Random
}

/** Instrument faults by name: one line each. */
export const sensorFaults: Readonly<Record<string, (context: FaultContext) => SensorOutput>> = {
  stuck: ({ first }) => ({ value: first }),
  lost: () => undefined,
  /** A broken loop carries no current. */
  open: () => ({ raw: 0 }),
  gain: ({ reading }) => scaled(reading, 1.03),
  /** 1 % of the span a minute. */
  drift: ({ reading, elapsed, span }) => shifted(reading, (0.01 * span * elapsed) / 60),
  /** One sample in thirty jumps by a third of the span. */
  spike: ({ reading, span, random }) => (random() < 1 / 30 ? shifted(reading, span / 3) : reading),
  text: () => ({ text: 'fault 7' }),
}

function scaled({ value, peak }: FaultContext['reading'], factor: number): SensorOutput {
  return { value: value * factor, ...(peak === undefined ? {} : { peak: peak * factor }) }
}

function shifted({ value, peak }: FaultContext['reading'], by: number): SensorOutput {
  return { value: value + by, ...(peak === undefined ? {} : { peak: peak + by }) }
}
