import type { Setting } from '../plants/model.ts'

/** One timed command, in the units in which people see the control. */
export interface ScenarioStep {
  /** After the start [s of plant time]. */
  at: number
  control: string
  value: Setting
}

/** A sequence of commands and faults for each plant. It leaves the plant as its last step leaves it. */
export interface Scenario {
  id: string
  summary: string
  /** By plant id. */
  steps: Readonly<Record<string, readonly ScenarioStep[]>>
  /** Begins again after this time [s]. */
  repeatAfter?: number
}

/** Plays the steps of one plant; `apply` hands a step to the plant. */
export function createScenarioPlayer(plant: string, apply: (step: ScenarioStep) => void) {
  let scenario: Scenario | undefined
  let elapsed = 0
  let next = 0
  return {
    /** Id of what is running, or "none". */
    running: () => scenario?.id ?? 'none',
    /** Stops what runs; undefined only stops. */
    start(wanted: Scenario | undefined): void {
      scenario = wanted
      elapsed = 0
      next = 0
    },
    step(dt: number): void {
      if (!scenario) return
      elapsed += dt
      const steps = scenario.steps[plant] ?? []
      while (next < steps.length && steps[next]!.at <= elapsed) apply(steps[next++]!)
      if (next < steps.length) return
      if (scenario.repeatAfter === undefined) scenario = undefined
      else if (elapsed >= scenario.repeatAfter) {
        elapsed -= scenario.repeatAfter
        next = 0
      }
    },
  }
}
