import type { HistoryReader, SamplesReply } from '../history/store.ts'

/** One recorded sample. */
export interface RecordedSample {
  /** Place of its signal among those that are read. */
  signal: number
  at: number
  value: number
  /** 0 good · 1 uncertain · 2 bad. */
  quality: number
}

export interface RecordedSignals {
  signals: readonly string[]
  /** Those of them that are sent only on change: their last value may be old. */
  sparse: readonly string[]
}

type Source = Pick<HistoryReader, 'samples'>

/** How far back the last value of a signal that is sent only on change is looked for [ms]. */
const LEAD_MS = 7 * 86_400_000
/** Samples of one piece at most; a piece with more is read in several. */
export const MOST_SAMPLES = 100_000

/** What was sent only on change stands as it was last before `at`, however long ago. */
export async function samplesBefore(
  history: Source,
  { signals, sparse }: RecordedSignals,
  at: number,
): Promise<RecordedSample[]> {
  if (sparse.length === 0) return []
  const span = { from: at, to: at + 1, lead: Math.min(at, LEAD_MS), limit: MOST_SAMPLES }
  const reply = await history.samples({ signals: sparse, ...span })
  const places = sparse.map((name) => signals.indexOf(name))
  return samplesIn(reply)
    .filter((sample) => sample.at < at)
    .map((sample) => ({ ...sample, signal: places[sample.signal]! }))
}

/**
 * A piece of a recording: the samples, and up to where they are all of them.
 *
 * @throws {Error} where it does not come forward.
 */
export async function samplesBetween(
  history: Source,
  { signals }: Pick<RecordedSignals, 'signals'>,
  { from, to }: { from: number; to: number },
): Promise<{ samples: RecordedSample[]; through: number }> {
  const reply = await history.samples({ signals, from, to, lead: 0, limit: MOST_SAMPLES })
  if (reply.through <= from) throw new Error(`more than ${MOST_SAMPLES} samples were recorded in one moment`)
  return { samples: samplesIn(reply), through: reply.through }
}

function samplesIn({ signal, at, value, quality }: SamplesReply): RecordedSample[] {
  return Array.from(at, (moment, i) => ({
    signal: signal[i]!,
    at: moment,
    value: value[i]!,
    quality: quality[i]!,
  }))
}
