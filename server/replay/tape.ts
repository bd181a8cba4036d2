import type { HistoryReader } from '../history/store.ts'
import { MOST_SAMPLES, type RecordedSample, samplesBefore, samplesBetween } from './recordedSamples.ts'

/** Reads a span of history ahead of the moment that is shown, in bounded pieces. */
export interface Tape {
  /** Begins anew at `at`; what was read ahead is dropped. */
  rewind(at: number): void
  /** The samples since the last call up to `until`, in the order of their times. */
  take(until: number): RecordedSample[]
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
export function createTape({ history, signals, sparse, to }: TapeOptions): Tape {
  let ahead: RecordedSample[] = []
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
    if (ahead.length === 0 && taken === 0) {
      const lead = await samplesBefore(history, { signals, sparse }, through)
      if (mine !== turn) return
      ahead.push(...lead)
    }
    while (mine === turn && through < to && through - shown < AHEAD_MS) {
      const span = { from: through, to: Math.min(to, through + PIECE_MS) }
      const piece = await samplesBetween(history, { signals }, span)
      if (mine !== turn) return
      for (const sample of piece.samples) ahead.push(sample)
      through = piece.through
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
