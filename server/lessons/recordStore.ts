import type { State } from '../state/openState.ts'
import type { LessonRecord, QuestionState, Truth } from '../wire/lesson.ts'

export interface StoredRecord {
  record: LessonRecord
  /** As stored, byte for byte. */
  text: string
  remark: string
  struck: string | null
}

export interface Prediction {
  group: number
  value: number
  u: number | null
}

export interface StoredQuestion {
  number: number
  text: string
  figure: string
  state: QuestionState
  truth: Truth | null
}

/**
 * What groups marked and predicted. A record is one transaction and is on the disk before anybody is told that it is
 * stored; what it holds cannot be changed or removed afterwards: triggers in the database refuse it.
 */
export interface RecordStore {
  /** `press` makes repeating it harmless: the number of the row that is there already, or the new one. */
  add(lesson: number, press: string, record: Omit<LessonRecord, 'number'>): number | undefined
  /** Number of the row of a press. */
  find(lesson: number, group: number, press: string): number | undefined
  note(lesson: number, number: number, note: { remark: string; struck: string | null }): boolean
  /** Of one group, or of all; ascending. */
  records(lesson: number, group?: number): StoredRecord[]
  counts(lesson: number): ReadonlyMap<number, number>
  ask(lesson: number, question: { number: number; text: string; figure: string; at: number }): boolean
  close(lesson: number, number: number, at: number): boolean
  reveal(lesson: number, number: number, truth: Truth & { revealedAt: number }): boolean
  questions(lesson: number): StoredQuestion[]
  predict(lesson: number, question: number, prediction: Prediction & { predictedAt: number }): boolean
  predictions(lesson: number, question: number): Prediction[]
}

interface RecordRow {
  record: string
  remark: string
  struck: string | null
}

interface QuestionRow {
  number: number
  text: string
  figure: string
  closed: number | null
  revealed: number | null
  truth: string | null
}

export function createRecordStore(state: State): RecordStore {
  const { database, write } = state
  const insert = database.prepare("INSERT INTO lesson_record VALUES (?, ?, ?, ?, ?, '', NULL)")
  const selectPress = database.prepare(
    'SELECT number FROM lesson_record WHERE lesson = ? AND group_number = ? AND press = ?',
  )
  const selectLast = database.prepare('SELECT max(number) AS last FROM lesson_record WHERE lesson = ?')
  const setNote = database.prepare(
    'UPDATE lesson_record SET remark = ?, struck = ? WHERE lesson = ? AND number = ?',
  )
  const selectAll = database.prepare(
    'SELECT record, remark, struck FROM lesson_record WHERE lesson = ? ORDER BY number',
  )
  const selectOwn = database.prepare(
    'SELECT record, remark, struck FROM lesson_record WHERE lesson = ? AND group_number = ? ORDER BY number',
  )
  const selectCounts = database.prepare(
    'SELECT group_number AS g, count(*) AS n FROM lesson_record WHERE lesson = ? GROUP BY group_number',
  )
  const insertQuestion = database.prepare(
    'INSERT INTO lesson_question (lesson, number, text, figure, asked) VALUES (?, ?, ?, ?, ?)',
  )
  const setClosed = database.prepare(
    'UPDATE lesson_question SET closed = ? WHERE lesson = ? AND number = ? AND closed IS NULL',
  )
  const setTruth = database.prepare(
    'UPDATE lesson_question SET closed = coalesce(closed, ?), revealed = ?, truth = ? WHERE lesson = ? AND number = ?',
  )
  const selectQuestions = database.prepare('SELECT * FROM lesson_question WHERE lesson = ? ORDER BY number')
  const putPrediction = database.prepare('INSERT OR REPLACE INTO lesson_prediction VALUES (?, ?, ?, ?, ?, ?)')
  const selectPredictions = database.prepare(
    'SELECT group_number AS "group", value, u FROM lesson_prediction WHERE lesson = ? AND question = ? ORDER BY group_number',
  )

  function find(lesson: number, group: number, press: string): number | undefined {
    return (selectPress.get(lesson, group, press) as { number: number } | undefined)?.number
  }

  /** Waits for the disk, which the other rows of the state need not: a power cut right after the answer loses none. */
  function writeThrough(task: () => void): boolean {
    database.pragma('synchronous = FULL')
    const isStored = write(task)
    database.pragma('synchronous = NORMAL')
    return isStored
  }

  return {
    find,
    add(lesson, press, record) {
      let number = find(lesson, record.group, press)
      if (number !== undefined) return number
      const isStored = writeThrough(() => {
        number = ((selectLast.get(lesson) as { last: number | null }).last ?? 0) + 1
        insert.run(lesson, number, record.group, press, JSON.stringify({ number, ...record }))
      })
      return isStored ? number : undefined
    },
    note: (lesson, number, { remark, struck }) =>
      write(() => void setNote.run(remark, struck, lesson, number)),
    records(lesson, group) {
      const rows = group === undefined ? selectAll.all(lesson) : selectOwn.all(lesson, group)
      return (rows as RecordRow[]).map(({ record, remark, struck }) => ({
        remark,
        struck,
        text: record,
        record: JSON.parse(record) as LessonRecord,
      }))
    },
    counts: (lesson) =>
      new Map((selectCounts.all(lesson) as { g: number; n: number }[]).map(({ g, n }) => [g, n])),
    ask: (lesson, { number, text, figure, at }) =>
      write(() => void insertQuestion.run(lesson, number, text, figure, at)),
    close: (lesson, number, at) => write(() => void setClosed.run(at, lesson, number)),
    reveal: (lesson, number, { revealedAt, ...truth }) =>
      write(() => void setTruth.run(revealedAt, revealedAt, JSON.stringify(truth), lesson, number)),
    questions: (lesson) => (selectQuestions.all(lesson) as QuestionRow[]).map(questionOf),
    predict: (lesson, question, { group, value, u, predictedAt }) =>
      write(() => void putPrediction.run(lesson, question, group, value, u, predictedAt)),
    predictions: (lesson, question) => selectPredictions.all(lesson, question) as Prediction[],
  }
}

function questionOf({ number, text, figure, closed, revealed, truth }: QuestionRow): StoredQuestion {
  return {
    number,
    text,
    figure,
    state: revealed !== null ? 'revealed' : closed !== null ? 'closed' : 'asked',
    truth: truth === null ? null : (JSON.parse(truth) as Truth),
  }
}
