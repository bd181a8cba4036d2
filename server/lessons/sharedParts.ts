import type { Clock } from '../clock.ts'
import type { LivePlant } from '../livePlant.ts'
import type { Trials } from '../trials/trials.ts'
import type { LessonStore } from './lessonStore.ts'
import type { RecordStore } from './recordStore.ts'
import type { Seats } from './seats.ts'
import type { UnderLesson } from './underLesson.ts'

/** What the instructor's and the groups' deeds both work on. */
export interface SharedParts {
  store: LessonStore
  records: RecordStore
  seats: Seats
  /** Classes that go on, by number. */
  under: ReadonlyMap<number, UnderLesson>
  plants: () => ReadonlyMap<string, LivePlant>
  trials: Pick<Trials, 'underWay'>
  clock: Clock
  /** Call after a change that phones have to hear of. */
  showAll: (lesson: UnderLesson) => void
}

/** Phones in one class. */
export const MOST_SEATS = 200
