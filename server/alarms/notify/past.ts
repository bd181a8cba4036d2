import type { Delivery, Path } from './delivery.ts'
import type { NotifySettings } from './settings.ts'

/** What the planner must know of what was planned before. */
export interface Past {
  /** A delivery that still waits. */
  waiting(id: string): Delivery | undefined
  /** Messages below high priority planned for this path since `since` [ms UTC]. */
  plannedSince(path: Path, since: number): number
  /** The incident of an alarm whose ladder still runs, since nobody has acknowledged. */
  openIncident(alarm: { plant: string; alarm: string }): string | undefined
  /** Who was told of this incident, or is about to be. */
  told(incident: string): Path[]
}

export interface DispatchContext {
  settings: NotifySettings
  past: Past
  now: number
}
