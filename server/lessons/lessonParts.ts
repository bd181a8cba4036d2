import type { Clock } from '../clock.ts'
import type { LivePlant } from '../livePlant.ts'
import type { Trials } from '../trials/trials.ts'
import type { LessonStore } from './lessonStore.ts'
import type { LessonUnderWay } from './lessonUnderWay.ts'
import type { RecordStore } from './recordStore.ts'
import type { Seats } from './seats.ts'

/** What the instructor's and the groups' actions both work on. */
export interface LessonParts {
  store: LessonStore
  records: RecordStore
  seats: Seats
  /** Lessons that go on, by number. */
  under: ReadonlyMap<number, LessonUnderWay>
  plants: () => ReadonlyMap<string, LivePlant>
  trials: Pick<Trials, 'underWay'>
  clock: Clock
  /** Call after a change that phones have to hear of. */
  showAll: (lesson: LessonUnderWay) => void
}

/** Phones in one lesson. */
export const MOST_SEATS = 200
