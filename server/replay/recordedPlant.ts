import type { Evaluator } from '../derive/evaluate.ts'
import { type Plan, planFigures } from '../derive/plan.ts'
import { createPlantFigures } from '../derive/plantFigures.ts'
import type { Plant } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'
import type { StateView } from '../wire/plant.ts'
import type { TapeSample } from './tape.ts'

/** A plant that is fed from a recording: figures, state and agreement, and nothing else. It has no alarms, no counters, no
 * journal and no way to any of them, so that what was cannot be taken for what is. */
export interface RecordedPlant {
  plan: Plan
  evaluator: Evaluator
  /** Figures whose samples it takes, in the order of their places. */
  signals: readonly string[]
  /** Those that are sent only on change. */
  sparse: readonly string[]
  take(samples: readonly TapeSample[]): void
  /** Brings figures and state to this moment; returns the indexes of the figures that changed. */
  evaluate(at: number): number[]
  state(): StateView
  /** Forgets everything that it was fed. */
  clear(): void
}

const QUALITIES: readonly Quality[] = ['good', 'uncertain', 'bad']
const RECORDED: Record<Quality, string[]> = {
  good: [],
  uncertain: ['recorded as uncertain'],
  bad: ['recorded as bad'],
}

/**
 * @param plant As its file is today: constants and curves are those of now, also for an old recording.
 */
export function createRecordedPlant(plant: Plant): RecordedPlant {
  const plan = planFigures(plant)
  const places = plan.nodes.filter((node) => node.kind !== 'derived')
  let figures = createPlantFigures(plan)

  function take(samples: readonly TapeSample[]): void {
    for (const { signal, at, value, quality } of samples) {
      const node = places[signal]!
      const grade = QUALITIES[quality] ?? 'bad'
      if (node.kind === 'measured') {
        // A gap needs no reading: the figure goes stale by itself.
        if (Number.isNaN(value)) continue
        const { id, quantity } = node.instrument
        const times = { measuredAt: at, receivedAt: at }
        const worth = { quality: grade, reasons: RECORDED[grade] }
        figures.evaluator.take({ plant: plant.id, instrument: id, quantity, value, ...times, ...worth })
      } else {
        const reasons = ['as it was recorded']
        figures.evaluator.setAccumulated(node.index, { value, u: 0, at, quality: grade, reasons })
      }
    }
  }

  return {
    plan,
    get evaluator() {
      return figures.evaluator
    },
    signals: places.map((node) => node.description.id),
    sparse: places
      .filter((node) => node.kind === 'measured' && !node.instrument.periodic)
      .map((node) => node.description.id),
    take,
    evaluate: (at) => figures.evaluate(at),
    state: () => figures.state(),
    clear() {
      figures = createPlantFigures(plan)
    },
  }
}
