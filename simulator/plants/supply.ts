import type { Setting } from './model.ts'

/** What a supply is told of the water that it gives. */
export interface Draw {
  settings: Readonly<Record<string, Setting>>
  isStopped: boolean
  /** Into the pipe [m³/s]. */
  discharge: number
  /** At the machine [m]. */
  netHead: number
}

/** Where the water comes from and what drives it: a pond at a river, or a pump over a sump. */
export interface Supply {
  settings: Record<string, Setting>
  step(dt: number, draw: Draw): void
  /** Head over the outlet [m] before any loss. */
  drivingHead(): number
  /** Loss before the pipe as head per discharge squared [s²/m⁵]. */
  loss(): number
  /** [K] */
  waterTemperature(): number
  truth(draw: Draw & { velocityHead: number }): Record<string, number>
  /** Power that enters and what is lost before the pipe [W]. */
  book(discharge: number): { supplied: number; lost: Record<string, number> }
}
