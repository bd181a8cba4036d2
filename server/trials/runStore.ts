import type { State } from '../state/openState.ts'
import type { NotesRequest, NotesVersion, RunChoices, RunSummary, RunsReply } from '../wire/trial.ts'
import type { RunMethod } from './runMethod.ts'
import { createTakeStore, type TakeStore } from './takeStore.ts'

export interface NewRun {
  plant: string
  at: number
  by: string
  method: RunMethod
  name: string
  className: string
  group: string
  year: string
  /** The plant file; stored once for all runs that were made with it. */
  plantText: string | undefined
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

/** A run with everything that was fixed when it began. */
export interface KnownRun {
  summary: RunSummary
  method: RunMethod
}

/** Runs, what was taken in them, and what was decided about it, in the state database. */
export interface RunStore extends TakeStore {
  /** Undefined when it could not be stored. */
  start(run: NewRun): number | undefined
  /** Those before stay. False when it could not be stored. */
  edit(run: number, notes: NotesRequest & Pick<NotesVersion, 'at' | 'by'>): boolean
  /** Names and notes as they were saved, oldest first. */
  versions(run: number): NotesVersion[]
  finish(run: number, at: number): boolean
  /** Newest first, a page at a time. */
  runs(plant: string, wish: RunsWish): RunsReply
  /** Text of a plant file by its checksum. */
  plantFile(sha256: string): string | undefined
  run(run: number): KnownRun | undefined
  /** Runs without an end. */
  open(): number[]
}

/** Runs as `RunSummary` has them. Rejected: what the newest decision on it says. */
const SUMMARY = `SELECT id, plant, trial, trialName, name, className, "group", year, startedAt, finishedAt, "by", notes,
  takes, taken - rejected AS kept, rejected FROM (SELECT r.id, r.plant, r.trial, r.trial_name AS trialName, r.name,
  r.class_name AS className, r.group_name AS "group", r.year, r.started AS startedAt, r.finished AS finishedAt,
  r.run_by AS "by", r.notes, r.takes,
  CASE r.takes WHEN 'points' THEN (SELECT count(*) FROM trial_point p WHERE p.run = r.id)
    ELSE (SELECT count(*) FROM trial_trace t WHERE t.run = r.id) END AS taken,
  (SELECT count(*) FROM trial_decision d WHERE d.run = r.id AND d.takes = r.takes AND d.verdict = 'rejected'
    AND NOT EXISTS (SELECT 1 FROM trial_decision l WHERE l.run = d.run AND l.takes = d.takes AND l.number = d.number
      AND l.sequence > d.sequence)) AS rejected
  FROM trial_run r WHERE `

const MATCHES = `r.plant = ? AND (? = '' OR r.trial = ?) AND (? = '' OR r.class_name = ?) AND (? = '' OR r.group_name = ?)
  AND (? = '' OR r.year = ?)`

const RUNS_A_PAGE = 50
/** Of each kind of choice. */
const MOST_CHOICES = 200

export function createRunStore(state: State): RunStore {
  const { database, write } = state
  const insertRun = database.prepare(
    `INSERT INTO trial_run (plant, trial, takes, trial_name, started, run_by, method, name, class_name, group_name,
       year, notes) VALUES (@plant, @trial, @takes, @trialName, @at, @by, @method, @name, @className, @group, @year, '')`,
  )
  const setNotes = database.prepare(
    'UPDATE trial_run SET name = @name, class_name = @className, group_name = @group, year = @year, notes = @notes WHERE id = @run',
  )
  const insertNotes = database.prepare(
    `INSERT INTO trial_notes (run, at, saved_by, name, class_name, group_name, year, notes)
     VALUES (@run, @at, @by, @name, @className, @group, @year, @notes)`,
  )
  const selectNotes = database.prepare(
    `SELECT at, saved_by AS "by", name, class_name AS className, group_name AS "group", year, notes
     FROM trial_notes WHERE run = ? ORDER BY sequence`,
  )
  const setFinished = database.prepare('UPDATE trial_run SET finished = ? WHERE id = ? AND finished IS NULL')
  const insertFile = database.prepare('INSERT OR IGNORE INTO trial_plant_file VALUES (?, ?)')
  const selectFile = database.prepare('SELECT text FROM trial_plant_file WHERE sha256 = ?')
  const selectRuns = database.prepare(`${SUMMARY} ${MATCHES} AND r.id < ? ORDER BY r.id DESC LIMIT ?)`)
  const countRuns = database.prepare(`SELECT count(*) AS runs FROM trial_run r WHERE ${MATCHES}`)
  const selectRun = database.prepare(`${SUMMARY} r.id = ?)`)
  const selectMethod = database.prepare('SELECT method FROM trial_run WHERE id = ?')
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

  // `get` would add a field of the driver's own.
  const summaryOf = (run: number) => (selectRun.all(run) as RunSummary[])[0]
  const namesOf = (column: 'class_name' | 'group_name' | 'year', plant: string) =>
    (selectNames.get(column)!.all(plant, MOST_CHOICES) as { name: string }[]).map(({ name }) => name)

  return {
    ...createTakeStore(state),
    start({ method, plantText, ...run }) {
      let id: number | undefined
      const isStored = write(() => {
        if (method.plantFile && plantText !== undefined) insertFile.run(method.plantFile.sha256, plantText)
        const { id: trial, takes, name: trialName } = method.view
        const row = { ...run, trial, takes, trialName, method: JSON.stringify(method) }
        id = Number(insertRun.run(row).lastInsertRowid)
        insertNotes.run({ ...run, run: id, notes: '' })
      })
      return isStored ? id : undefined
    },
    edit(run, { at, by, ...wish }) {
      const known = summaryOf(run)
      if (!known) return false
      const { name, className, group, year, notes } = { ...known, ...wish }
      const saved = { name, className, group, year, notes }
      if (Object.entries(saved).every(([field, text]) => text === known[field as keyof typeof saved]))
        return true
      return write(() => {
        setNotes.run({ run, ...saved })
        insertNotes.run({ run, at, by, ...saved })
      })
    },
    versions: (run) => selectNotes.all(run) as NotesVersion[],
    finish: (run, at) => write(() => void setFinished.run(at, run)),
    runs(plant, wish) {
      const match = matchOf(plant, wish)
      const { before = Number.MAX_SAFE_INTEGER } = wish
      const found = selectRuns.all(...match, before, RUNS_A_PAGE + 1) as RunSummary[]
      const runs = found.slice(0, RUNS_A_PAGE)
      return {
        runs,
        total: (countRuns.get(...match) as { runs: number }).runs,
        before: found.length > RUNS_A_PAGE ? runs.at(-1)!.id : null,
        choices: {
          trials: selectTrials.all(plant, MOST_CHOICES) as RunChoices['trials'],
          classes: namesOf('class_name', plant),
          groups: namesOf('group_name', plant),
          years: namesOf('year', plant).reverse(),
        },
      }
    },
    plantFile: (sha256) => (selectFile.get(sha256) as { text: string } | undefined)?.text,
    run(run) {
      const summary = summaryOf(run)
      if (!summary) return undefined
      const { method } = selectMethod.get(run) as { method: string }
      return { summary, method: JSON.parse(method) as RunMethod }
    },
    open: () => (selectOpen.all() as { id: number }[]).map((row) => row.id),
  }
}

function matchOf(plant: string, { trial = '', className = '', group = '', year = '' }: RunsWish): string[] {
  return [plant, ...[trial, className, group, year].flatMap((text) => [text, text])]
}
