import type { State } from '../state/openState.ts'
import type { NotesRequest, RunChoices, RunSummary, TrialPoint } from '../wire/trial.ts'
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
  /** The plant file; stored once for all runs that were made with it. */
  plantText?: string
}

/** Which runs of a plant: "" or absent stands for any. */
export interface RunsWish {
  trial?: string
  className?: string
  group?: string
  year?: string
  /** Only runs with a smaller number: the next page. */
  before?: number
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
  runs(plant: string, limit: number, wish?: RunsWish): RunSummary[]
  /** How many there are of these, whatever page. */
  count(plant: string, wish: RunsWish): number
  /** What the runs of a plant can be told apart by. */
  choices(plant: string): RunChoices
  /** Text of a plant file by its checksum. */
  plantFile(sha256: string): string | undefined
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
  name: string
  class_name: string
  group_name: string
  year: string
  notes: string
  kept: number
  rejected: number
  traces: number | null
}

interface PointRow {
  point: string
  raw: string
  verdict: TrialPoint['verdict']
  reason: string
}

const SUMMARY = `SELECT r.id, r.plant, r.trial, r.trial_name, r.started, r.finished, r.run_by, r.name,
  r.class_name, r.group_name, r.year, r.notes, (SELECT count(*) FROM trial_point p WHERE p.run = r.id AND p.verdict = 'kept') AS kept,
  (SELECT count(*) FROM trial_point p WHERE p.run = r.id AND p.verdict = 'rejected') AS rejected,
  (SELECT nullif(count(*), 0) FROM trial_trace t WHERE t.run = r.id AND t.verdict = 'kept') AS traces FROM trial_run r`

const MATCHES = `r.plant = ? AND (? = '' OR r.trial = ?) AND (? = '' OR r.class_name = ?) AND (? = '' OR r.group_name = ?)
  AND (? = '' OR r.year = ?)`

const MOST_KNOWN = 50
/** Of each kind of choice. */
const MOST_CHOICES = 200

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
  const insertFile = database.prepare('INSERT OR IGNORE INTO trial_plant_file VALUES (?, ?)')
  const selectFile = database.prepare('SELECT text FROM trial_plant_file WHERE sha256 = ?')
  const selectRuns = database.prepare(`${SUMMARY} WHERE ${MATCHES} AND r.id < ? ORDER BY r.id DESC LIMIT ?`)
  const countRuns = database.prepare(`SELECT count(*) AS runs FROM trial_run r WHERE ${MATCHES}`)
  const selectRun = database.prepare(`${SUMMARY} WHERE r.id = ?`)
  const selectMethod = database.prepare('SELECT method FROM trial_run WHERE id = ?')
  const selectPoints = database.prepare(
    'SELECT point, raw, verdict, reason FROM trial_point WHERE run = ? ORDER BY number',
  )
  const selectTrials = database.prepare(
    'SELECT trial AS id, max(trial_name) AS name FROM trial_run WHERE plant = ? GROUP BY trial ORDER BY name LIMIT ?',
  )
  const selectNames = new Map(
    (['class_name', 'group_name', 'year'] as const).map((column) => [
      column,
      database.prepare(
        `SELECT DISTINCT ${column} AS name FROM trial_run WHERE plant = ? AND ${column} <> '' ORDER BY name LIMIT ?`,
      ),
    ]),
  )
  const selectOpen = database.prepare('SELECT id FROM trial_run WHERE finished IS NULL ORDER BY id')

  /** Points as read last: a run under way looks at them twice a second. */
  const known = new Map<number, TrialPoint[]>()
  const rowOf = (run: number) => selectRun.get(run) as RunRow | undefined
  const namesOf = (column: 'class_name' | 'group_name' | 'year', plant: string) =>
    (selectNames.get(column)!.all(plant, MOST_CHOICES) as { name: string }[]).map(({ name }) => name)
  const pointRows = (run: number) => selectPoints.all(run) as PointRow[]

  return {
    start({ plant, trial, at, by, method, name, className, group, year, plantText }) {
      let id: number | undefined
      const isStored = write(() => {
        const text = JSON.stringify(method)
        if (method.plantFile && plantText !== undefined) insertFile.run(method.plantFile.sha256, plantText)
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
    runs: (plant, limit, wish = {}) =>
      (
        selectRuns.all(...matchOf(plant, wish), wish.before ?? Number.MAX_SAFE_INTEGER, limit) as RunRow[]
      ).map(summaryOf),
    count: (plant, wish) => (countRuns.get(...matchOf(plant, wish)) as { runs: number }).runs,
    choices: (plant) => ({
      trials: selectTrials.all(plant, MOST_CHOICES) as RunChoices['trials'],
      classes: namesOf('class_name', plant),
      groups: namesOf('group_name', plant),
      years: namesOf('year', plant).reverse(),
    }),
    plantFile: (sha256) => (selectFile.get(sha256) as { text: string } | undefined)?.text,
    run(run) {
      const row = rowOf(run)
      if (!row) return undefined
      const { method } = selectMethod.get(run) as { method: string }
      return { summary: summaryOf(row), method: JSON.parse(method) as RunMethod }
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

function matchOf(plant: string, { trial = '', className = '', group = '', year = '' }: RunsWish): string[] {
  return [plant, ...[trial, className, group, year].flatMap((text) => [text, text])]
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
    ...(row.traces === null ? {} : { traces: row.traces }),
  }
}
