import type { AlarmView } from './alarm.ts'
import type { FigureValue, UtcMs } from './figure.ts'
import type { HealthLine, Snapshot, SourceView, StateView } from './plant.ts'
import type { SceneView } from './scene.ts'

/** One conflated frame per tick: the latest value of each figure that changed since the last frame. */
export interface Frame {
  sequence: number
  at: UtcMs
  /** [index into the snapshot's figures, value]. */
  values: [number, FigureValue][]
  alarms?: AlarmView[]
  state?: StateView
  source?: SourceView
  health?: HealthLine
  scene?: SceneView
}

/** Alarm transitions go out at once, ahead of the next frame. */
export interface AlarmNotice {
  plant: string
  alarm: AlarmView
  at: UtcMs
}

export interface ServerToClient {
  /**
   * The browser must call `done` when it has taken the frame in: the server sends the next one only then
   * (credit pacing) and merges what comes meanwhile.
   */
  frame: (frame: Frame, done: () => void) => void
  alarm: (notice: AlarmNotice) => void
  /** The plant file was read again; the browser joins anew. */
  plantChanged: (plant: string) => void
}

export type JoinReply =
  | { ok: true; snapshot: Snapshot }
  /** `signIn`: for want of a right; anything else: there is no such plant. */
  | { ok: false; error: string; signIn?: true }

export interface ClientToServer {
  /** A plant, or another scene, by its id. Leaves the one joined before, if any. */
  join: (scene: string, reply: (answer: JoinReply) => void) => void
  leave: () => void
}
