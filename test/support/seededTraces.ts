import type { Plant } from '../../server/plant/plant.ts'
import { trials } from '../../server/trials/definitions/index.ts'
import { methodOf } from '../../server/trials/runMethod.ts'
import type { TracePart } from '../../server/trials/trace/readings.ts'
import { type ReducedRun, type ReduceRequest, reduceTraces } from '../../server/trials/trace/reduceTraces.ts'
import { toSi } from '../../server/wire/units.ts'
import { createSensor } from '../../simulator/sensors/sensor.ts'
import { livePlantOf } from './livePlantOf.ts'
import { START } from './manualClock.ts'
import type { RecordedTrial } from './recordedTrial.ts'
import { STEP_MS } from './recordedTrial.ts'
import { taking } from './trialBench.ts'

export interface SeededTraces {
  seed: number
  trial: string
  /** From and to of each trace, and what triggered [s from the start of the recording]. */
  traces: readonly { from: number; triggered: number; to: number }[]
  known?: Plant
  typed?: ReduceRequest['typed']
  /** Stretches without a reading [s from the start of the recording]. */
  without?: readonly { from: number; to: number }[]
}

/**
 * Traces as the instruments of `seed` read them from one recording, reduced at once: no server between, so that hundreds
 * of seeds take seconds. One set of instruments reads all traces of a seed, as in a class.
 */
export function reduceSeeded(
  { plant, columns }: RecordedTrial,
  { seed, trial, traces, known = plant, typed = [], without = [] }: SeededTraces,
): ReducedRun {
  const definition = trials.find((one) => one.id === trial)!
  const method = taking('traces', methodOf(definition, livePlantOf(known).plan))
  const sensors = plant.instruments
    .filter((one) => method.view.channels.some((channel) => channel.instrument === one.id))
    .map((one) => createSensor(one, { seed, plant: plant.id, ideal: false }))
  const read = ({ from, to }: { from: number; to: number }): TracePart =>
    Object.fromEntries(
      sensors.map((sensor) => {
        const { instrument } = sensor
        const every = Math.max(STEP_MS, instrument.periodic ? instrument.periodMs : STEP_MS)
        const readings: TracePart[string] = []
        for (let t = from * 1000; t <= to * 1000; t += every) {
          if (without.some((gap) => t > gap.from * 1000 && t < gap.to * 1000)) continue
          const value = columns.get(instrument.quantity)![Math.round(t / STEP_MS) - 1]!
          const output = sensor.sample({ value }, 0)
          if (output && 'value' in output) readings.push([START + t, toSi(output.value, instrument.unit)])
        }
        return [instrument.quantity, readings]
      }),
    )
  return reduceTraces({
    method,
    typed,
    traces: traces.map((one, i) => ({
      number: i + 1,
      triggeredAt: START + one.triggered * 1000,
      endedAt: START + one.to * 1000,
      isKept: true,
      raw: [JSON.stringify(read(one))],
    })),
  })
}
