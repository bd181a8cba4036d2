import type { Clock } from '../clock.ts'
import type { Trials } from '../trials/trials.ts'
import type { QuestionView } from '../wire/lesson.ts'
import { createLessonScene, type LessonScene, type LessonSceneOptions, type Moment } from './lessonScene.ts'
import type { Arrangement, LessonStore, StoredLesson } from './lessonStore.ts'
import { questionsOf } from './predictions.ts'
import type { RecordStore } from './recordStore.ts'
import type { Seats } from './seats.ts'

/** How long [ms] after a press it can still be stored with the figures of its moment. */
export const LATEST_MS = 120_000
/** Between two moments that are kept [ms]. */
const KEEP_MS = 1000
/** How far [ms] a kept moment may lie from the press. */
const NEAR_MS = 2000

/** A lesson that goes on: what it is shown, and what it was shown in the last two minutes. */
export interface LessonUnderWay {
  id: number
  plant: string
  code(): string
  /** False when the disk refused it. */
  changeCode(code: string): boolean
  endsAt: number
  arrangement(): Arrangement
  /** False when the disk refused it; then nothing changed. */
  arrange(next: Partial<Arrangement> & { title?: string }): boolean
  scene: LessonScene
  /** Brings it up to what its source shows now. */
  take(): void
  /** What the class saw `ageMs` ago; undefined when that is not kept any more. */
  momentAgo(ageMs: number): Moment | undefined
  question(): QuestionView | null
  questions(): QuestionView[]
  /** Questions, predictions, groups or records changed. */
  touch(): void
}

/** What the instructor's and the groups' actions both work on. */
export interface LessonParts {
  store: LessonStore
  records: RecordStore
  seats: Seats
  /** Lessons that go on, by number. */
  under: ReadonlyMap<number, LessonUnderWay>
  plants: LessonSceneOptions['plants']
  trials: Pick<Trials, 'underWay'>
  clock: Clock
  /** Call after a change that phones have to hear of. */
  showAll: (lesson: LessonUnderWay) => void
}

export interface LessonUnderWayOptions extends Pick<LessonSceneOptions, 'plants' | 'sceneOf'> {
  stored: StoredLesson
  store: LessonStore
  records: RecordStore
  clock: Clock
}

export function createLessonUnderWay(options: LessonUnderWayOptions): LessonUnderWay {
  const { stored, store, records, clock } = options
  const { id, plant, endsAt } = stored.summary
  const kept: { mono: number; moment: Moment }[] = []
  let { title } = stored.summary
  let { arrangement, code } = stored
  let revision = 1
  let questions = questionsOf(records, id)
  const question = () => questions.at(-1) ?? null
  const scene = createLessonScene({
    ...options,
    id,
    plant,
    now: clock.now,
    arrangement: () => arrangement,
    about: () => ({ title, question: question(), revision }),
  })

  function keep(): void {
    const now = clock.mono()
    if (now - (kept.at(-1)?.mono ?? Number.NEGATIVE_INFINITY) < KEEP_MS) return
    const moment = scene.moment()
    if (moment) kept.push({ mono: now, moment })
    while (kept.length > 0 && now - kept[0]!.mono > LATEST_MS) kept.shift()
  }

  return {
    id,
    plant,
    endsAt,
    scene,
    arrangement: () => arrangement,
    question,
    code: () => code,
    changeCode(next) {
      if (!store.setCode(id, next)) return false
      code = next
      return true
    },
    arrange({ title: wished, ...next }) {
      const newest = { ...arrangement, ...next }
      if (!store.arrange(id, wished ?? title, newest)) return false
      title = wished ?? title
      arrangement = newest
      revision++
      return true
    },
    take() {
      scene.take()
      keep()
    },
    momentAgo(ageMs) {
      if (ageMs < KEEP_MS) return scene.moment()
      const wanted = clock.mono() - ageMs
      const nearest = kept.reduce<(typeof kept)[number] | undefined>(
        (best, one) => (best && Math.abs(best.mono - wanted) <= Math.abs(one.mono - wanted) ? best : one),
        undefined,
      )
      return nearest && Math.abs(nearest.mono - wanted) <= NEAR_MS ? nearest.moment : undefined
    },
    questions: () => questions,
    touch() {
      questions = questionsOf(records, id)
      revision++
    },
  }
}
