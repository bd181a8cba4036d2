import { DONE, doneIf, granted, NOT_STORED, type Outcome, refuse } from '../outcome.ts'
import { CONCEALED } from '../push/conceal.ts'
import type { ExplainReply } from '../wire/explain.ts'
import type { FigureDescription } from '../wire/figure.ts'
import type {
  LessonRecord,
  PointName,
  PredictionRequest,
  RecordFigure,
  RecordRequest,
  RecordView,
  SeatReply,
} from '../wire/lesson.ts'
import type { TrialPoint } from '../wire/point.ts'
import { lessonSceneId, type Moment } from './lessonScene.ts'
import type { Group, Seat, StoredLesson } from './lessonStore.ts'
import { LATEST_MS, type LessonParts, type LessonUnderWay } from './lessonUnderWay.ts'
import type { StoredRecord } from './recordStore.ts'

/** What a group does from its phones, each by the seat that it holds. */
export interface GroupActions {
  view(seat: Seat): SeatReply | undefined
  /** Stores a row; repeating it with the same key stores nothing and answers the same. */
  record(seat: Seat, wish: RecordRequest): Outcome<{ number: number }>
  remark(seat: Seat, number: number, remark: string): Outcome<null>
  /** It stays in the record with its reason. */
  strike(seat: Seat, number: number, reason: string): Outcome<null>
  predict(seat: Seat, wish: PredictionRequest): Outcome<null>
  explain(seat: Seat, figure: string): Outcome<ExplainReply>
}

/** Rows that one group can mark in a lesson; an automatic that goes wrong must not fill the disk. */
export const MOST_RECORDS = 500

type NewRow = Omit<LessonRecord, 'number' | 'storedAt' | 'group' | 'groupName' | 'prediction'>

export function createGroupActions(parts: LessonParts): GroupActions {
  const { store, records, under, trials, clock, plants, showAll } = parts

  /** Points of a guided run are those of the plant itself: a replay has nothing to do with them. */
  function runOf(lesson: LessonUnderWay) {
    return lesson.scene.source()?.id === lesson.plant ? trials.underWay(lesson.plant) : undefined
  }

  function rowOfPoint(lesson: LessonUnderWay, { run, number }: PointName): NewRow | undefined {
    const found = runOf(lesson)
    const point = found?.run === run ? found.points.find((one) => one.number === number) : undefined
    if (!found || !point) return undefined
    return {
      pressedAt: point.at,
      shownAt: point.at,
      shown: 'live',
      setting: point.setting,
      point: { run, number },
      steady: {
        state: 'steady',
        sentence: `Point ${number} of run ${run}: mean of ${point.samples} samples.`,
      },
      figures: figuresOfPoint(point, found.trial.figures, lesson.scene.concealed()),
    }
  }

  function rowOfPress(lesson: LessonUnderWay, ageMs: number): NewRow | undefined {
    const moment = lesson.momentAgo(ageMs)
    if (!moment) return undefined
    const { shownAt, shown, setting, steady } = moment
    const pressedAt = clock.now() - ageMs
    return { pressedAt, shownAt, shown, setting, steady, point: null, figures: figuresOfMoment(moment) }
  }

  /** To the present question. */
  function predictionOf(lesson: LessonUnderWay | undefined, group: number): LessonRecord['prediction'] {
    const question = lesson?.question()
    if (!lesson || !question) return null
    const own = records.predictions(lesson.id, question.number).find((one) => one.group === group)
    return own ? { question: question.number, value: own.value, u: own.u } : null
  }

  function ownRow(seat: Seat, number: number): StoredRecord | undefined {
    return records.records(seat.lesson, seat.group).find(({ record }) => record.number === number)
  }

  function groupOf({ lesson, group }: Seat): Group {
    const found = store.allGroups(lesson).find(({ number }) => number === group)
    return found ?? { number: group, name: '', word: '' }
  }

  function listed(stored: StoredLesson, seat: Seat): RecordView[] {
    const keys = plants().get(stored.summary.plant)?.view.keyFigures ?? []
    const { numbers } = under.get(seat.lesson)?.arrangement() ?? stored.arrangement
    const asked = records.questions(seat.lesson).map(({ figure }) => figure)
    const wanted = new Set([...numbers, ...keys, ...asked])
    return records
      .records(seat.lesson, seat.group)
      .reverse()
      .map(({ record, remark, struck }) => ({
        ...record,
        remark,
        struck,
        figures: record.figures
          .filter(({ id }) => wanted.has(id))
          .map(({ id, value, u95, quality }) => ({
            id,
            value,
            quality,
            ...(u95 === undefined ? {} : { u95 }),
          })),
      }))
  }

  return {
    view(seat) {
      const stored = store.lesson(seat.lesson)
      if (!stored) return undefined
      const lesson = under.get(seat.lesson)
      const rows = listed(stored, seat)
      const run = lesson && runOf(lesson)
      const isTaken = (number: number) =>
        rows.some(({ point }) => point?.run === run?.run && point?.number === number)
      return {
        lesson: seat.lesson,
        title: stored.summary.title,
        plantName: stored.plantName,
        scene: lessonSceneId(seat.lesson),
        group: groupOf(seat),
        state: lesson ? 'open' : 'ended',
        endsAt: stored.summary.endsAt,
        records: rows,
        prediction: predictionOf(lesson, seat.group),
        points: (run?.points ?? [])
          .filter(({ verdict }) => verdict === 'kept')
          .map(({ number, at, setting }) => ({
            run: run!.run,
            number,
            at,
            setting,
            isTaken: isTaken(number),
          }))
          .reverse(),
        latestMs: LATEST_MS,
      }
    },
    record(seat, { key, ageMs, remark = '', point }) {
      const press = point ? `point ${point.run} ${point.number}` : key
      const known = records.find(seat.lesson, seat.group, press)
      if (known !== undefined) return granted({ number: known })
      const lesson = under.get(seat.lesson)
      if (!lesson) return ENDED
      if ((records.counts(seat.lesson).get(seat.group) ?? 0) >= MOST_RECORDS) return FULL
      const row = point ? rowOfPoint(lesson, point) : rowOfPress(lesson, ageMs)
      if (!row) return point ? NO_POINT : TOO_OLD
      const number = records.add(seat.lesson, press, {
        ...row,
        group: seat.group,
        groupName: groupOf(seat).name,
        storedAt: clock.now(),
        prediction: predictionOf(lesson, seat.group),
      })
      if (number === undefined) return NOT_STORED
      if (remark !== '') records.note(seat.lesson, number, { remark, struck: null })
      lesson.touch()
      return granted({ number })
    },
    remark(seat, number, remark) {
      const row = ownRow(seat, number)
      if (!row) return NO_ROW
      return doneIf(records.note(seat.lesson, number, { remark, struck: row.struck }))
    },
    strike(seat, number, reason) {
      const row = ownRow(seat, number)
      if (!row) return NO_ROW
      if (row.struck !== null) return DONE
      return doneIf(records.note(seat.lesson, number, { remark: row.remark, struck: reason }))
    },
    predict(seat, { question, value, u }) {
      const lesson = under.get(seat.lesson)
      if (!lesson) return ENDED
      const asked = lesson.question()
      if (asked?.number !== question || asked.state !== 'asked') return NOT_ASKED
      const most = largestOf(
        plants()
          .get(lesson.plant)
          ?.view.figures.find(({ id }) => id === asked.figure),
      )
      if (Math.abs(value) > most || (u ?? 0) > most) return IMPOSSIBLE
      const prediction = { group: seat.group, value, u: u ?? null, predictedAt: clock.now() }
      if (!records.predict(seat.lesson, question, prediction)) return NOT_STORED
      lesson.touch()
      showAll(lesson)
      return DONE
    },
    explain: (seat, figure) => under.get(seat.lesson)?.scene.explain(figure) ?? ENDED,
  }
}

/** Everything that was in view; what was hidden is left out. */
export function figuresOfMoment({ view, values }: Pick<Moment, 'view' | 'values'>): RecordFigure[] {
  return view.figures.flatMap(({ id, name, unit, viewUnit }, index) => {
    const value = values[index]
    return value && value !== CONCEALED ? [{ id, name, unit, viewUnit, ...value }] : []
  })
}

function figuresOfPoint(
  { figures, at }: TrialPoint,
  described: readonly FigureDescription[],
  concealed: ReadonlySet<string>,
): RecordFigure[] {
  return figures.flatMap(({ id, mean, u95 }) => {
    const known = described.find((one) => one.id === id)
    if (!known || concealed.has(id)) return []
    const { name, unit, viewUnit } = known
    return [{ id, name, unit, viewUnit, u95, at, value: mean, quality: 'good' as const, reasons: [] }]
  })
}

/** Ten times the ends of a figure's range or its rated value; a share, or where nothing is known, what no rig reaches. SI. */
function largestOf(figure: FigureDescription | undefined): number {
  const { rated = 0, low = 0, high = 0, unit } = figure ?? {}
  const known = Math.max(Math.abs(rated), Math.abs(low), Math.abs(high))
  return known > 0 ? 10 * known : unit === '1' ? 10 : 1e9
}

const IMPOSSIBLE = refuse(
  400,
  'No rig like this one reaches such a value, so the prediction was not taken. Look at the unit and the power of ten.',
)
const ENDED = refuse(409, 'This lesson has ended. Your records and your pack are still here.')
const FULL = refuse(409, `Your group has ${MOST_RECORDS} records, which is all it can have.`)
const NO_POINT = refuse(404, 'The guided run that is under way has no such point.')
const NO_ROW = refuse(404, 'Your group has no such record.')
const NOT_ASKED = refuse(409, 'Predictions to this question are closed.')
const TOO_OLD = refuse(
  409,
  `It came too late: the server keeps the figures of the last ${LATEST_MS / 60_000} minutes only, so nothing was stored. Press again.`,
)
