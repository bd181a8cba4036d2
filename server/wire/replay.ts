import type { UtcMs } from './figure.ts'
import type { ReplayView } from './scene.ts'

/** A recording that is being shown. Shared by server and browser. */
export interface ReplaySummary extends ReplayView {
  id: number
  /** What browsers join. */
  scene: string
  plant: string
  plantName: string
  /** Name of the run; null for any other span. */
  runName: string | null
  /** Figures that were hidden by hand; what follows from them is hidden as well. */
  hidden: string[]
  /** Moments to stop at: the points of the run. */
  marks: ReplayMark[]
  /** Why it does not go on; null while it does. */
  waits: string | null
}

export interface ReplayMark {
  at: UtcMs
  /** e.g. "Point 3". */
  name: string
}

/** GET /api/plants/:p/replays */
export interface ReplaysReply {
  replays: ReplaySummary[]
}

/** POST /api/plants/:p/replays: a saved run, or any span. */
export interface ReplayRequest {
  run?: number
  from?: UtcMs
  to?: UtcMs
}

/** POST /api/replays/:r: what is to change. */
export interface ReplayControl {
  isPaused?: boolean
  /** 0.25, 0.5, 1, 2, 4, 8 or 16. */
  speed?: number
  at?: UtcMs
  hidden?: string[]
}
