import type { FigureValue } from '../wire/figure.ts'
import type { SteadyLamp } from '../wire/lesson.ts'
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
}

/** Figures that were kept, by id: the plant file may be read anew meanwhile. Never sent as it is. */
export interface Frozen {
  at: number
  values: Record<string, FigureValue>
  state: StateView
  replay: ReplayView | null
  steady: SteadyLamp
}
