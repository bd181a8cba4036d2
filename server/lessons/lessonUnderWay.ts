import type { QuestionView } from '../wire/lesson.ts'
import type { Arrangement } from './arrangement.ts'
import type { LessonScene, Sight } from './lessonScene.ts'
import type { LessonStore, StoredLesson } from './lessonStore.ts'
import { revealOf } from './predictions.ts'
import type { RecordStore, StoredQuestion } from './recordStore.ts'

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
  code: string
  title(): string
  endsAt: number
  arrangement(): Arrangement
  /** False when the disk refused it; then nothing changed. */
  arrange(next: Partial<Arrangement> & { title?: string }): boolean
  scene: LessonScene
  /** Brings it up to what its source shows now. */
  take(): void
  /** What the class saw `ageMs` ago; undefined when that is not kept any more. */
  sightOf(ageMs: number): Sight | undefined
  question(): QuestionView | null
  questions(): QuestionView[]
  /** Questions, predictions, groups or records changed. */
  touch(): void
  revision(): number
}

export interface LessonUnderWayOptions {
  stored: StoredLesson
  lessons: LessonStore
  records: RecordStore
  sceneFor: (about: Pick<LessonUnderWay, 'arrangement' | 'title' | 'question' | 'revision'>) => LessonScene
  mono: () => number
}

export function createLessonUnderWay(options: LessonUnderWayOptions): LessonUnderWay {
  const { stored, lessons, records, sceneFor, mono } = options
  const { id, plant, endsAt } = stored.summary
  const kept: { mono: number; sight: Sight }[] = []
  let { title } = stored.summary
  let { arrangement } = stored
  let revision = 1
  let questions = readQuestions()

  function readQuestions(): QuestionView[] {
    return records.questions(id).map((one) => questionView(one, records, id))
  }

  const about = {
    title: () => title,
    arrangement: () => arrangement,
    question: () => questions.at(-1) ?? null,
    revision: () => revision,
  }
  const scene = sceneFor(about)

  function keep(): void {
    const now = mono()
    if (now - (kept.at(-1)?.mono ?? Number.NEGATIVE_INFINITY) < KEEP_MS) return
    const sight = scene.sight()
    if (sight) kept.push({ mono: now, sight })
    while (kept.length > 0 && now - kept[0]!.mono > LATEST_MS) kept.shift()
  }

  return {
    ...about,
    id,
    plant,
    endsAt,
    scene,
    code: stored.code,
    arrange({ title: wished, ...next }) {
      const newest = { ...arrangement, ...next }
      if (!lessons.arrange(id, wished ?? title, newest)) return false
      title = wished ?? title
      arrangement = newest
      revision++
      return true
    },
    take() {
      scene.take()
      keep()
    },
    sightOf(ageMs) {
      if (ageMs < KEEP_MS) return scene.sight()
      const wanted = mono() - ageMs
      const nearest = kept.reduce<(typeof kept)[number] | undefined>(
        (best, one) => (best && Math.abs(best.mono - wanted) <= Math.abs(one.mono - wanted) ? best : one),
        undefined,
      )
      return nearest && Math.abs(nearest.mono - wanted) <= NEAR_MS ? nearest.sight : undefined
    },
    questions: () => questions,
    touch() {
      questions = readQuestions()
      revision++
    },
  }
}

/** Until a question is revealed nothing goes out but how many have predicted. */
export function questionView(question: StoredQuestion, records: RecordStore, lesson: number): QuestionView {
  const { number, text, figure, state, truth } = question
  const predictions = records.predictions(lesson, number)
  return {
    number,
    text,
    figure,
    state,
    predicted: predictions.length,
    reveal: truth && state === 'revealed' ? revealOf(truth, predictions) : null,
  }
}
