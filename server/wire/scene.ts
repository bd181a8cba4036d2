import { z } from 'zod'
import type { LessonView } from './lesson.ts'
import { flag, number, objectOf, text, time } from './shape.ts'

export const replayView = z.object({
  at: time.describe('The recorded moment that the figures are of'),
  from: time.describe('First and last moment of what is replayed'),
  to: time,
  speed: number.describe('Recorded seconds per second, 0.25 … 16'),
  isPaused: flag,
  run: number.nullable().describe('Saved run that is replayed; null for any other span'),
  by: text.describe('Name of the person who began it'),
})
export type ReplayView = z.output<typeof replayView>

export const sceneView = z.object({
  plant: text.describe('Id of the plant whose figures these are, or were'),
  hidden: z.array(text).describe('Figures that are withheld from every viewer until they are revealed'),
  replay: replayView.nullable().describe('Set while a recording is shown: nothing of it is live'),
  lesson: objectOf<LessonView>('Set where a class watches').exactOptional(),
})
/** What a screen shows when it is not the plant as it is now. It goes with every snapshot, so no viewer can miss it. */
export type SceneView = z.output<typeof sceneView>
