import type { UtcMs } from './figure.ts'
import type { LessonView } from './lesson.ts'

/** What a screen shows when it is not the plant as it is now. It goes with every snapshot, so no viewer can miss it. */
export interface SceneView {
  /** Id of the plant whose figures these are, or were. */
  plant: string
  /** Ids of figures that are withheld from every viewer until they are revealed. */
  hidden: string[]
  /** Set while a recording is shown: nothing of it is live. */
  replay: ReplayView | null
  /** Set where a class watches. */
  lesson?: LessonView
}

export interface ReplayView {
  /** The recorded moment that the figures are of. */
  at: UtcMs
  /** What is replayed, first and last moment. */
  from: UtcMs
  to: UtcMs
  /** Recorded seconds per second; 0.25 … 16. */
  speed: number
  isPaused: boolean
  /** Saved run that is replayed; null for any other span. */
  run: number | null
  /** Name of the person who began it. */
  by: string
}
