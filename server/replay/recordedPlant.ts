import type { Evaluator } from '../derive/evaluate.ts'
import { type MeasuredNode, type Plan, planFigures } from '../derive/plan.ts'
import { createPlantFigures } from '../derive/plantFigures.ts'
import type { Reading } from '../ingest/reading.ts'
import type { Plant } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'
import type { StateView } from '../wire/plant.ts'
import type { RecordedSample } from './recordedSamples.ts'

/** A plant that is fed from a recording: figures, state and agreement, and nothing else. It has no alarms, no counters, no
 * journal and no way to any of them, so that what was cannot be taken for what is. */
export interface RecordedPlant {
  plan: Plan
  evaluator: Evaluator
  /** Figures whose samples it takes, in the order of their places. */
  signals: readonly string[]
  /** Those that are sent only on change. */
  sparse: readonly string[]
  take(samples: readonly RecordedSample[]): void
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

export const recordedQuality = ({ quality }: RecordedSample): Quality => QUALITIES[quality] ?? 'bad'

/** What an instrument is taken to have said, as far as it was recorded. */
export function recordedReading(
  plant: Pick<Plant, 'id'>,
  { instrument: { id, quantity } }: MeasuredNode,
  sample: RecordedSample,
): Reading {
  const { value, at } = sample
  const quality = recordedQuality(sample)
  const times = { measuredAt: at, receivedAt: at }
  return { plant: plant.id, instrument: id, quantity, value, ...times, quality, reasons: RECORDED[quality] }
}

/**
 * @param plant As its file is today: constants and curves are those of now, also for an old recording.
 */
export function createRecordedPlant(plant: Plant): RecordedPlant {
  const plan = planFigures(plant)
  const places = plan.nodes.filter((node) => node.kind !== 'derived')
  let figures = createPlantFigures(plan)

  function take(samples: readonly RecordedSample[]): void {
    for (const sample of samples) {
      const { signal, at, value } = sample
      const node = places[signal]!
      if (node.kind === 'measured') {
        // A gap needs no reading: the figure goes stale by itself.
        if (!Number.isNaN(value)) figures.evaluator.take(recordedReading(plant, node, sample))
      } else {
        const [quality, reasons] = [recordedQuality(sample), ['as it was recorded']]
        figures.evaluator.setAccumulated(node.index, { value, u: 0, at, quality, reasons })
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
