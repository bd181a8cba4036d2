import type { State } from '../state/openState.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { LessonSummary, SteadyLamp } from '../wire/lesson.ts'
import type { StateView } from '../wire/plant.ts'
import type { ReplayView } from '../wire/scene.ts'

/** What the instructor set; kept so that a lesson goes on after a restart of the server. */
export interface Arrangement {
  /** Scene that is shown: the plant, or another one. */
  source: string
  numbers: string[]
  hidden: string[]
  /** Of `hidden` those that went with the question: they come back with its figure. */
  alongside: string[]
  explained: string | null
  frozen: Frozen | null
  /** Nobody can join. */
  isClosed: boolean
}

/** Figures that were kept, by id: the plant file may be read anew meanwhile. Never sent as it is. */
export interface Frozen {
  at: number
  values: Record<string, FigureValue>
  state: StateView
  replay: ReplayView | null
  steady: SteadyLamp
}

export interface StoredLesson {
  summary: LessonSummary
  plantName: string
  code: string
  arrangement: Arrangement
  /** How the lesson was done, in sentences, as it was when it began. */
  method: string[]
}

export interface Group {
  number: number
  name: string
  /** Opens it to further phones. */
  word: string
}

export interface Seat {
  /** Hash of the token; the token itself is only in the browser. */
  key: string
  lesson: number
  group: number
}

export interface NewLesson {
  plant: string
  plantName: string
  title: string
  code: string
  at: number
  by: string
  endsAt: number
  arrangement: Arrangement
  method: string[]
}

/** Lessons, their groups and seats in the state database. What returns boolean is false when the disk refused it. */
export interface LessonStore {
  open(lesson: NewLesson): number | undefined
  arrange(lesson: number, title: string, arrangement: Arrangement): boolean
  end(lesson: number, at: number): boolean
  lesson(lesson: number): StoredLesson | undefined
  /** Newest first. */
  list(plant: string, limit: number): LessonSummary[]
  /** Lessons without an end. */
  under(): number[]
  /** Groups that were not removed. */
  groups(lesson: number): Group[]
  /** With those that were removed. */
  allGroups(lesson: number): Group[]
  addGroup(lesson: number, group: Group): boolean
  renameGroup(lesson: number, group: Pick<Group, 'number' | 'name'>): boolean
  setCode(lesson: number, code: string): boolean
  /** With its seats; its records stay. */
  removeGroup(lesson: number, group: number, at: number): boolean
  takeSeat(seat: Seat, at: number): boolean
  leaveSeat(key: string): boolean
  seats(): Seat[]
}

/** Lessons as `LessonSummary` has them. */
const SUMMARY = `SELECT l.id, l.plant, l.title, l.opened AS openedAt, l.opened_by AS openedBy, l.ends AS endsAt,
  l.ended AS endedAt,
  (SELECT count(*) FROM lesson_group g WHERE g.lesson = l.id AND g.removed IS NULL) AS groups,
  (SELECT count(*) FROM lesson_record r WHERE r.lesson = l.id) AS records FROM lesson l`

export function createLessonStore({ database, write }: State): LessonStore {
  const insert = database.prepare(
    `INSERT INTO lesson (plant, plant_name, title, code, opened, opened_by, ends, arrangement, method)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  const setArrangement = database.prepare('UPDATE lesson SET title = ?, arrangement = ? WHERE id = ?')
  const setCode = database.prepare('UPDATE lesson SET code = ? WHERE id = ?')
  const setEnded = database.prepare('UPDATE lesson SET ended = ? WHERE id = ? AND ended IS NULL')
  const selectOne = database.prepare(`${SUMMARY} WHERE l.id = ?`)
  const selectRest = database.prepare(
    'SELECT plant_name AS plantName, code, arrangement, method FROM lesson WHERE id = ?',
  )
  const selectAll = database.prepare(`${SUMMARY} WHERE l.plant = ? ORDER BY l.id DESC LIMIT ?`)
  const selectUnder = database.prepare('SELECT id FROM lesson WHERE ended IS NULL ORDER BY id')
  const selectGroups = database.prepare(
    'SELECT number, name, word, removed FROM lesson_group WHERE lesson = ? ORDER BY number',
  )
  const insertGroup = database.prepare(
    'INSERT INTO lesson_group (lesson, number, name, word) VALUES (?, ?, ?, ?)',
  )
  const setName = database.prepare('UPDATE lesson_group SET name = ? WHERE lesson = ? AND number = ?')
  const setRemoved = database.prepare('UPDATE lesson_group SET removed = ? WHERE lesson = ? AND number = ?')
  const insertSeat = database.prepare('INSERT INTO lesson_seat VALUES (?, ?, ?, ?)')
  const deleteSeat = database.prepare('DELETE FROM lesson_seat WHERE key = ?')
  const deleteSeats = database.prepare('DELETE FROM lesson_seat WHERE lesson = ? AND group_number = ?')
  const selectSeats = database.prepare(
    `SELECT s.key, s.lesson, s.group_number AS "group" FROM lesson_seat s ORDER BY s.taken`,
  )
  const rows = (lesson: number) => selectGroups.all(lesson) as (Group & { removed: number | null })[]

  return {
    open({ plant, plantName, title, code, at, by, endsAt, arrangement, method }) {
      let id: number | undefined
      const texts = [JSON.stringify(arrangement), JSON.stringify(method)] as const
      const isStored = write(() => {
        const done = insert.run(plant, plantName, title, code, at, by, endsAt, ...texts)
        id = Number(done.lastInsertRowid)
      })
      return isStored ? id : undefined
    },
    arrange: (lesson, title, arrangement) =>
      write(() => void setArrangement.run(title, JSON.stringify(arrangement), lesson)),
    end: (lesson, at) => write(() => void setEnded.run(at, lesson)),
    lesson(lesson) {
      // `get` would add a field of the driver's own.
      const [summary] = selectOne.all(lesson) as LessonSummary[]
      const [rest] = selectRest.all(lesson) as Record<
        'plantName' | 'code' | 'arrangement' | 'method',
        string
      >[]
      return (
        summary &&
        rest && {
          summary,
          ...rest,
          arrangement: JSON.parse(rest.arrangement) as Arrangement,
          method: JSON.parse(rest.method) as string[],
        }
      )
    },
    list: (plant, limit) => selectAll.all(plant, limit) as LessonSummary[],
    under: () => (selectUnder.all() as { id: number }[]).map(({ id }) => id),
    groups: (lesson) =>
      rows(lesson)
        .filter(({ removed }) => removed === null)
        .map(({ number, name, word }) => ({ number, name, word })),
    allGroups: (lesson) => rows(lesson).map(({ number, name, word }) => ({ number, name, word })),
    addGroup: (lesson, { number, name, word }) =>
      write(() => void insertGroup.run(lesson, number, name, word)),
    setCode: (lesson, code) => write(() => void setCode.run(code, lesson)),
    renameGroup: (lesson, { number, name }) => write(() => void setName.run(name, lesson, number)),
    removeGroup: (lesson, group, at) =>
      write(() => {
        setRemoved.run(at, lesson, group)
        deleteSeats.run(lesson, group)
      }),
    takeSeat: ({ key, lesson, group }, at) => write(() => void insertSeat.run(key, lesson, group, at)),
    leaveSeat: (key) => write(() => void deleteSeat.run(key)),
    seats: () => selectSeats.all() as Seat[],
  }
}
