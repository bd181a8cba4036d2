import type { HistoryReader } from '../history/store.ts'

/** One recorded sample. */
export interface TapeSample {
  /** Place of its signal among the tape's signals. */
  signal: number
  at: number
  value: number
  /** 0 good · 1 uncertain · 2 bad. */
  quality: number
}

/** Reads a span of history ahead of the moment that is shown, in bounded pieces. */
export interface Tape {
  /** Begins anew at `at`; what was read ahead is dropped. */
  rewind(at: number): void
  /** The samples since the last call up to `until`, in the order of their times. */
  take(until: number): TapeSample[]
  /** Every sample before this moment is at hand [ms UTC]. */
  through(): number
  /** Why it cannot go on at present. */
  fault(): string | undefined
  /** Samples that are read and not taken. */
  length(): number
}

export interface TapeOptions {
  history: Pick<HistoryReader, 'samples'>
  signals: readonly string[]
  /** Those of them that are sent only on change: their last value may be old. */
  sparse: readonly string[]
  to: number
}

/** Recorded time that is read with one question, and how far ahead it is read [ms]. */
const PIECE_MS = 60_000
const AHEAD_MS = 240_000
/** How far back the last value of a signal that is sent only on change is looked for [ms]. */
const LEAD_MS = 7 * 86_400_000
/** Samples of one piece at most; a piece with more is read in several. */
export const MOST_SAMPLES = 100_000

export function createTape({ history, signals, sparse, to }: TapeOptions): Tape {
  let ahead: TapeSample[] = []
  let taken = 0
  let through = 0
  let shown = 0
  let fault: string | undefined
  /** Counts rewinds: an answer to an older question is no longer wanted. */
  let turn = 0
  let isReading = false

  async function read(): Promise<void> {
    if (isReading) return
    const mine = turn
    isReading = true
    try {
      await readAhead(mine)
      fault = undefined
    } catch (error) {
      fault = error instanceof Error ? error.message : String(error)
    } finally {
      isReading = false
    }
    if (mine !== turn) void read()
  }

  async function readAhead(mine: number): Promise<void> {
    if (ahead.length === 0 && taken === 0 && sparse.length > 0) await readLead(mine)
    while (mine === turn && through < to && through - shown < AHEAD_MS) {
      const piece = { from: through, to: Math.min(to, through + PIECE_MS), lead: 0, limit: MOST_SAMPLES }
      const reply = await history.samples({ signals, ...piece })
      if (mine !== turn) return
      if (reply.through <= through)
        throw new Error(`more than ${MOST_SAMPLES} samples were recorded in one moment`)
      for (let i = 0; i < reply.at.length; i++)
        ahead.push({
          signal: reply.signal[i]!,
          at: reply.at[i]!,
          value: reply.value[i]!,
          quality: reply.quality[i]!,
        })
      through = reply.through
    }
  }

  /** What was sent only on change stands as it was last, however long ago. */
  async function readLead(mine: number): Promise<void> {
    const start = through
    const reply = await history.samples({
      signals: sparse,
      from: start,
      to: start + 1,
      lead: Math.min(start, LEAD_MS),
      limit: MOST_SAMPLES,
    })
    if (mine !== turn) return
    for (let i = 0; i < reply.at.length; i++) {
      if (reply.at[i]! >= start) continue
      const signal = signals.indexOf(sparse[reply.signal[i]!]!)
      ahead.push({ signal, at: reply.at[i]!, value: reply.value[i]!, quality: reply.quality[i]! })
    }
  }

  return {
    rewind(at) {
      turn++
      ahead = []
      taken = 0
      through = at
      shown = at
      void read()
    },
    take(until) {
      let end = taken
      while (end < ahead.length && ahead[end]!.at <= until) end++
      const due = ahead.slice(taken, end)
      taken = end
      if (taken > MOST_SAMPLES) {
        ahead = ahead.slice(taken)
        taken = 0
      }
      shown = Math.max(shown, until)
      if (through < to && through - shown < AHEAD_MS / 2) void read()
      return due
    },
    through: () => through,
    fault: () => fault,
    length: () => ahead.length - taken,
  }
}
