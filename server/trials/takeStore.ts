import type { State } from '../state/openState.ts'
import type { Standing, TrialPoint } from '../wire/point.ts'
import type { TraceEnding, TraceView } from '../wire/trace.ts'
import type { Takes } from '../wire/trial.ts'
import type { RawWindow } from './capture/capture.ts'
import { countOf, type TracePart } from './trace/readings.ts'

/** A class does not take more points; an automatic that goes wrong must not fill the disk. */
export const MOST_POINTS = 500

/** Most traces of a run, and most readings of a trace. */
export const MOST_TRACES = 60
export const MOST_READINGS = 200_000

/** Who kept or rejected a point or trace, when and why. */
export interface Decision {
  takes: Takes
  number: number
  at: number
  by: string
  verdict: Standing['verdict']
  reason: string
}

/** As it is measured: what is decided about it stands apart. */
export type NewPoint = Omit<TrialPoint, keyof Standing>

/** Byte for byte. */
export interface StoredPoint {
  point: TrialPoint
  pointText: string
  rawText: string
}

export type NewTrace = Pick<TraceView, 'number' | 'from' | 'triggeredAt' | 'setting'>

export interface StoredTrace extends Omit<TraceView, 'endingWords' | 'result'> {
  /** Pieces so far. */
  parts: number
}

export interface TraceEnd {
  number: number
  at: number
  ending: TraceEnding
}

/**
 * Points and traces of runs, and what was decided about them. A point is one transaction when it is captured; a piece
 * of a trace is one twice a second while it is recorded: the death of browser, network or server loses at most a
 * second. What was measured is never changed and a trace that has ended takes no more: triggers in the database refuse
 * it. Writing returns false when it could not be stored.
 */
export interface TakeStore {
  addPoint(run: number, point: NewPoint, raw: RawWindow | null): boolean
  points(run: number): TrialPoint[]
  /** With the readings, for the pack. */
  storedPoints(run: number): StoredPoint[]
  /** Stores the trace with its first piece. */
  beginTrace(run: number, trace: NewTrace, first: TracePart): boolean
  appendTrace(run: number, number: number, part: { index: number; readings: TracePart }): boolean
  /** @param decision What it means for the trace that it ended like this. */
  endTrace(run: number, end: TraceEnd, decision?: Decision): boolean
  traces(run: number): StoredTrace[]
  /** Pieces of a trace as stored, in order. */
  raw(run: number, number: number): string[]
  /** The newest decision counts; those before it stay. */
  decide(run: number, decision: Decision): boolean
  /** Every one, oldest first. */
  decisions(run: number): Decision[]
}

const SELECT_TRACES = `SELECT t.number, t.begun AS "from", t.triggered AS triggeredAt, t.ended AS endedAt, t.ending, t.setting,
  coalesce(sum(p.readings), 0) AS readings, count(p.part) AS parts FROM trial_trace t LEFT JOIN trial_trace_part p ON p.run = t.run AND p.number = t.number WHERE t.run = ? GROUP BY t.number ORDER BY t.number`

const MOST_KNOWN = 50

export function createTakeStore({ database, write }: State): TakeStore {
  const insertPoint = database.prepare('INSERT INTO trial_point VALUES (?, ?, ?, ?)')
  const selectPoints = database.prepare('SELECT point, raw FROM trial_point WHERE run = ? ORDER BY number')
  const insertTrace = database.prepare(`INSERT INTO trial_trace VALUES (?, ?, ?, ?, ?, NULL, 'recording')`)
  const insertPart = database.prepare('INSERT INTO trial_trace_part VALUES (?, ?, ?, ?, ?)')
  const setEnd = database.prepare('UPDATE trial_trace SET ended = ?, ending = ? WHERE run = ? AND number = ?')
  const selectTraces = database.prepare(SELECT_TRACES)
  const selectRaw = database.prepare(
    'SELECT raw FROM trial_trace_part WHERE run = ? AND number = ? ORDER BY part',
  )
  const insertDecision = database.prepare(
    'INSERT INTO trial_decision (run, takes, number, at, decided_by, verdict, reason) VALUES (?, ?, ?, ?, ?, ?, ?)',
  )
  const selectDecisions = database.prepare(
    'SELECT takes, number, at, decided_by AS "by", verdict, reason FROM trial_decision WHERE run = ? ORDER BY sequence',
  )

  /** Points as read last: a run under way looks at them twice a second. */
  const known = new Map<number, TrialPoint[]>()

  function addPart(run: number, number: number, part: { index: number; readings: TracePart }): void {
    insertPart.run(run, number, part.index, countOf(part.readings), JSON.stringify(part.readings))
  }

  function addDecision(run: number, { takes, number, at, by, verdict, reason }: Decision): void {
    insertDecision.run(run, takes, number, at, by, verdict, reason)
  }

  const decisions = (run: number) => selectDecisions.all(run) as Decision[]

  /** What counts now for a point or trace. */
  function standing(run: number, takes: Takes): (number: number) => Standing {
    const newest = new Map(
      decisions(run)
        .filter((one) => one.takes === takes)
        .map(({ number, verdict, reason, by, at }): [number, Standing] => [
          number,
          { verdict, reason: verdict === 'rejected' ? reason : '', decided: { by, at } },
        ]),
    )
    return (number) => newest.get(number) ?? { verdict: 'kept', reason: '' }
  }

  function storedPoints(run: number): StoredPoint[] {
    const decided = standing(run, 'points')
    return (selectPoints.all(run) as { point: string; raw: string }[]).map(({ point: pointText, raw }) => {
      const point = JSON.parse(pointText) as NewPoint
      return { point: { ...point, ...decided(point.number) }, pointText, rawText: raw }
    })
  }

  return {
    addPoint(run, point, raw) {
      known.delete(run)
      return write(() => {
        insertPoint.run(run, point.number, JSON.stringify(point), JSON.stringify(raw))
      })
    },
    points(run) {
      const points = known.get(run) ?? storedPoints(run).map(({ point }) => point)
      if (known.size >= MOST_KNOWN) known.clear()
      known.set(run, points)
      return points
    },
    storedPoints,
    beginTrace: (run, { number, from, triggeredAt, setting }, readings) =>
      write(() => {
        insertTrace.run(run, number, from, triggeredAt, setting)
        addPart(run, number, { index: 0, readings })
      }),
    appendTrace: (run, number, part) => write(() => addPart(run, number, part)),
    endTrace: (run, { number, at, ending }, decision) =>
      write(() => {
        setEnd.run(at, ending, run, number)
        if (decision) addDecision(run, decision)
      }),
    traces(run) {
      const decided = standing(run, 'traces')
      const rows = selectTraces.all(run) as Omit<StoredTrace, keyof Standing>[]
      return rows.map((row) => ({ ...row, ...decided(row.number) }))
    },
    raw: (run, number) => (selectRaw.all(run, number) as { raw: string }[]).map((row) => row.raw),
    decide(run, decision) {
      known.delete(run)
      return write(() => addDecision(run, decision))
    },
    decisions,
  }
}
