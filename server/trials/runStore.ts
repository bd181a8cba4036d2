import type { State } from '../state/openState.ts'
import type { NotesRequest, RunSummary, TrialPoint } from '../wire/trial.ts'
import type { RawWindow } from './capture/capture.ts'
import type { RunMethod } from './runMethod.ts'

export interface NewRun {
  plant: string
  trial: string
  at: number
  by: string
  method: RunMethod
  name: string
  className: string
  group: string
  year: string
}

export interface StoredPoint {
  point: TrialPoint
  /** As stored, byte for byte. */
  pointText: string
  rawText: string
  /** Every decision on it, oldest first. */
  verdicts: Verdict[]
}

/** Who kept or rejected a point, when and why. */
export interface Verdict {
  at: number
  by: string
  verdict: TrialPoint['verdict']
  reason: string
}

/**
 * Runs and their points in the state database. A point is one transaction and is written when it is captured, so the
 * death of browser, network or server loses none. The readings of a point cannot be changed afterwards: triggers in
 * the database refuse it.
 */
export interface RunStore {
  /** Undefined when it could not be stored. */
  start(run: NewRun): number | undefined
  /** False when it could not be stored. */
  addPoint(run: number, point: TrialPoint, raw: RawWindow | null): boolean
  /** Sets the present verdict and adds it to the history. */
  decide(run: number, number: number, verdict: Verdict): boolean
  edit(run: number, notes: NotesRequest): boolean
  finish(run: number, at: number): boolean
  /** Newest first. */
  runs(plant: string, limit: number): RunSummary[]
  run(run: number): { summary: RunSummary; method: RunMethod } | undefined
  points(run: number): TrialPoint[]
  /** With the readings, for the pack. */
  stored(run: number): StoredPoint[]
  /** Runs without an end. */
  open(): number[]
}

interface RunRow {
  id: number
  plant: string
  trial: string
  trial_name: string
  started: number
  finished: number | null
  run_by: string
  method: string
  name: string
  class_name: string
  group_name: string
  year: string
  notes: string
  kept: number
  rejected: number
}

interface PointRow {
  point: string
  raw: string
  verdict: TrialPoint['verdict']
  reason: string
}

const SUMMARY = `SELECT r.*, (SELECT count(*) FROM trial_point p WHERE p.run = r.id AND p.verdict = 'kept') AS kept,
  (SELECT count(*) FROM trial_point p WHERE p.run = r.id AND p.verdict = 'rejected') AS rejected FROM trial_run r`

const MOST_KNOWN = 50

export function createRunStore({ database, write }: State): RunStore {
  const insertRun = database.prepare(
    `INSERT INTO trial_run (plant, trial, trial_name, started, run_by, method, name, class_name, group_name, year, notes)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, '')`,
  )
  const insertPoint = database.prepare('INSERT INTO trial_point VALUES (?, ?, ?, ?, ?, ?)')
  const setVerdict = database.prepare(
    'UPDATE trial_point SET verdict = ?, reason = ? WHERE run = ? AND number = ?',
  )
  const insertVerdict = database.prepare(
    'INSERT INTO trial_verdict (run, number, at, decided_by, verdict, reason) VALUES (?, ?, ?, ?, ?, ?)',
  )
  const selectVerdicts = database.prepare(
    'SELECT number, at, decided_by AS by, verdict, reason FROM trial_verdict WHERE run = ? ORDER BY sequence',
  )
  const setNotes = database.prepare(
    'UPDATE trial_run SET name = ?, class_name = ?, group_name = ?, year = ?, notes = ? WHERE id = ?',
  )
  const setFinished = database.prepare('UPDATE trial_run SET finished = ? WHERE id = ? AND finished IS NULL')
  const selectRuns = database.prepare(`${SUMMARY} WHERE r.plant = ? ORDER BY r.id DESC LIMIT ?`)
  const selectRun = database.prepare(`${SUMMARY} WHERE r.id = ?`)
  const selectPoints = database.prepare(
    'SELECT point, raw, verdict, reason FROM trial_point WHERE run = ? ORDER BY number',
  )
  const selectOpen = database.prepare('SELECT id FROM trial_run WHERE finished IS NULL ORDER BY id')

  /** Points as read last: a run under way looks at them twice a second. */
  const known = new Map<number, TrialPoint[]>()
  const rowOf = (run: number) => selectRun.get(run) as RunRow | undefined
  const pointRows = (run: number) => selectPoints.all(run) as PointRow[]

  return {
    start({ plant, trial, at, by, method, name, className, group, year }) {
      let id: number | undefined
      const isStored = write(() => {
        const text = JSON.stringify(method)
        id = Number(
          insertRun.run(plant, trial, method.view.name, at, by, text, name, className, group, year)
            .lastInsertRowid,
        )
      })
      return isStored ? id : undefined
    },
    addPoint(run, { verdict, reason, ...point }, raw) {
      known.delete(run)
      return write(() => {
        insertPoint.run(run, point.number, JSON.stringify(point), JSON.stringify(raw), verdict, reason)
      })
    },
    decide(run, number, { at, by, verdict, reason }) {
      known.delete(run)
      return write(() => {
        setVerdict.run(verdict, verdict === 'kept' ? '' : reason, run, number)
        insertVerdict.run(run, number, at, by, verdict, reason)
      })
    },
    edit(run, notes) {
      const row = rowOf(run)
      if (!row) return false
      const { name = row.name, className = row.class_name, group = row.group_name } = notes
      const { year = row.year, notes: text = row.notes } = notes
      return write(() => void setNotes.run(name, className, group, year, text, run))
    },
    finish: (run, at) => write(() => void setFinished.run(at, run)),
    runs: (plant, limit) => (selectRuns.all(plant, limit) as RunRow[]).map(summaryOf),
    run(run) {
      const row = rowOf(run)
      return row && { summary: summaryOf(row), method: JSON.parse(row.method) as RunMethod }
    },
    points(run) {
      const points = known.get(run) ?? pointRows(run).map(pointOf)
      if (known.size >= MOST_KNOWN) known.clear()
      known.set(run, points)
      return points
    },
    stored(run) {
      const decided = selectVerdicts.all(run) as (Verdict & { number: number })[]
      return pointRows(run).map((row) => {
        const point = pointOf(row)
        const verdicts = decided
          .filter((one) => one.number === point.number)
          .map(({ at, by, verdict, reason }) => ({ at, by, verdict, reason }))
        return { point, pointText: row.point, rawText: row.raw, verdicts }
      })
    },
    open: () => (selectOpen.all() as { id: number }[]).map((row) => row.id),
  }
}

function pointOf({ point, verdict, reason }: PointRow): TrialPoint {
  return { ...(JSON.parse(point) as Omit<TrialPoint, 'verdict' | 'reason'>), verdict, reason }
}

function summaryOf(row: RunRow): RunSummary {
  return {
    id: row.id,
    plant: row.plant,
    trial: row.trial,
    trialName: row.trial_name,
    name: row.name,
    className: row.class_name,
    group: row.group_name,
    year: row.year,
    startedAt: row.started,
    finishedAt: row.finished,
    by: row.run_by,
    notes: row.notes,
    kept: row.kept,
    rejected: row.rejected,
  }
}
