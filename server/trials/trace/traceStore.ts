import type { State } from '../../state/openState.ts'
import type { TraceEnding } from '../../wire/trace.ts'
import type { TracePart } from './readings.ts'

export interface NewTrace {
  number: number
  /** First reading, and what triggered. */
  begun: number
  triggered: number
  setting: string
}

export interface StoredTrace extends NewTrace {
  ended: number | null
  ending: TraceEnding
  verdict: 'kept' | 'rejected'
  reason: string
  /** Pieces and readings so far. */
  parts: number
  readings: number
}

/**
 * Traces of runs. A piece is one transaction, written twice a second while a trace is recorded: the death of browser,
 * network or server loses at most one second. Readings are never changed: triggers in the database refuse it, and a
 * trace that has ended takes no more.
 */
export interface TraceStore {
  /** Stores the trace with its first piece. False when it could not be stored; so for all that follow. */
  begin(run: number, trace: NewTrace, first: TracePart): boolean
  append(run: number, number: number, part: { index: number; readings: TracePart }): boolean
  end(run: number, number: number, ending: TraceEnd): boolean
  decide(run: number, number: number, verdict: { verdict: 'kept' | 'rejected'; reason: string }): boolean
  traces(run: number): StoredTrace[]
  /** Pieces as stored, in order. */
  raw(run: number, number: number): string[]
}

export interface TraceEnd {
  at: number
  ending: TraceEnding
  verdict?: 'rejected'
  reason?: string
}

const SELECT = `SELECT t.*, count(p.part) AS parts, coalesce(sum(p.readings), 0) AS readings FROM trial_trace t
  LEFT JOIN trial_trace_part p ON p.run = t.run AND p.number = t.number WHERE t.run = ? GROUP BY t.number ORDER BY t.number`

export function createTraceStore({ database, write }: State): TraceStore {
  const insert = database.prepare(
    `INSERT INTO trial_trace VALUES (?, ?, ?, ?, ?, NULL, 'recording', 'kept', '')`,
  )
  const insertPart = database.prepare('INSERT INTO trial_trace_part VALUES (?, ?, ?, ?, ?)')
  const setEnd = database.prepare('UPDATE trial_trace SET ended = ?, ending = ? WHERE run = ? AND number = ?')
  const setVerdict = database.prepare(
    'UPDATE trial_trace SET verdict = ?, reason = ? WHERE run = ? AND number = ?',
  )
  const select = database.prepare(SELECT)
  const selectRaw = database.prepare(
    'SELECT raw FROM trial_trace_part WHERE run = ? AND number = ? ORDER BY part',
  )
  const addPart = (
    run: number,
    number: number,
    { index, readings }: { index: number; readings: TracePart },
  ) => insertPart.run(run, number, index, countOf(readings), JSON.stringify(readings))

  return {
    begin: (run, { number, begun, triggered, setting }, first) =>
      write(() => {
        insert.run(run, number, begun, triggered, setting)
        addPart(run, number, { index: 0, readings: first })
      }),
    append: (run, number, part) => write(() => void addPart(run, number, part)),
    end: (run, number, { at, ending, verdict, reason = '' }) =>
      write(() => {
        setEnd.run(at, ending, run, number)
        if (verdict) setVerdict.run(verdict, reason, run, number)
      }),
    decide: (run, number, { verdict, reason }) =>
      write(() => void setVerdict.run(verdict, reason, run, number)),
    traces: (run) => select.all(run) as StoredTrace[],
    raw: (run, number) => (selectRaw.all(run, number) as { raw: string }[]).map((row) => row.raw),
  }
}

function countOf(part: TracePart): number {
  return Object.values(part).reduce((sum, readings) => sum + readings.length, 0)
}
