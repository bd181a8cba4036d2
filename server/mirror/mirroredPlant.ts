import type { AccumulatedFigure, PlantNow } from '../channel/messages.ts'
import { planFigures } from '../derive/plan.ts'
import { createPlantFigures } from '../derive/plantFigures.ts'
import { describePlant } from '../derive/plantView.ts'
import type { Verdict } from '../derive/verdict.ts'
import type { Reading } from '../ingest/reading.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { ShownPlant } from './shownPlant.ts'

/**
 * A plant beside the watch: the same readings at the same moments go through the same formulas, so its figures are the
 * watch's to the last bit. Alarms, and what figures remember, are told by the watch.
 */
export interface MirroredPlant extends ShownPlant {
  takeReading(reading: Reading): void
  takeAlarm(alarm: AlarmView): void
  /** Returns the indexes of the figures that changed. */
  tick(now: number, more: TickOfPlant): number[]
}

/** What came with a tick beside readings and alarms. */
export interface TickOfPlant {
  isConnected: boolean
  accumulated: readonly AccumulatedFigure[]
  verdict: Verdict | null
}

/** @param evaluatedAt When the watch evaluated last; null where it has not yet. */
export function createMirroredPlant(from: PlantNow, evaluatedAt: number | null): MirroredPlant {
  const { plant } = from
  const plan = planFigures(plant)
  const figures = createPlantFigures(plan, from.machine)
  const { evaluator } = figures
  const alarms = new Map(from.alarms.map((alarm) => [alarm.id, alarm]))
  let { lastReceivedAt } = from
  evaluator.restore(from.figures)
  evaluator.setConnected(from.isConnected)
  let verdict = from.verdict ?? undefined
  evaluator.setVerdict(verdict)
  remember(from.accumulated)
  if (evaluatedAt !== null) figures.evaluate(evaluatedAt)

  function remember(accumulated: readonly AccumulatedFigure[]): void {
    for (const [index, one] of accumulated) evaluator.setAccumulated(index, one)
  }

  return {
    plant,
    plan,
    view: describePlant(plan),
    evaluator,
    agreement: figures.agreement,
    state: figures.state,
    alarms: () => [...alarms.values()],
    lastReceivedAt: () => lastReceivedAt,
    takeReading(reading) {
      evaluator.take(reading)
      lastReceivedAt = reading.receivedAt
    },
    takeAlarm: (alarm) => void alarms.set(alarm.id, alarm),
    verdict: () => verdict,
    tick(now, { isConnected, accumulated, verdict: next }) {
      evaluator.setConnected(isConnected)
      verdict = next ?? undefined
      evaluator.setVerdict(verdict)
      const changed = figures.evaluate(now)
      remember(accumulated)
      return changed
    },
  }
}
