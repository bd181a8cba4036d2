import { systemClock } from '../../server/clock.ts'
import { createIngest } from '../../server/ingest/ingest.ts'
import { createLivePlant, type LivePlant } from '../../server/livePlant.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { createSchedule } from '../../simulator/publish/schedule.ts'
import { createSensor } from '../../simulator/sensors/sensor.ts'
import { createSite } from '../../simulator/site.ts'
import { memoryJournal } from './alarmBench.ts'
import { memoryBroker } from './memoryBroker.ts'

/**
 * A stretch of a simulated plant's true values, recorded once and read by ever new sets of instruments: trials
 * over hundreds of seeds then cost only what the server does.
 */
export interface RecordedPlant {
  plant: Plant
  /** True values every 20 ms. */
  steps: ReadonlyMap<string, number>[]
}

const START = 1_790_000_000_000
const STEP_MS = 20
const TICK_MS = 1000

export function recordPlant(
  id: string,
  { seed, settle, seconds }: { seed: number; settle: number; seconds: number },
): RecordedPlant {
  const site = createSite(id, { seed })
  for (let t = 0; t < settle; t += 0.02) site.step(0.02)
  const steps = Array.from({ length: (seconds * 1000) / STEP_MS }, () => {
    site.step(STEP_MS / 1000)
    return site.truth()
  })
  return { plant: site.plant, steps }
}

/** Instruments with the errors of `seed` read the recording into a live plant; `fault` is one of the sensor faults. */
export function readRecording(
  { plant, steps }: RecordedPlant,
  { seed, fault }: { seed: number; fault?: { instrument: string; kind: string } },
): LivePlant {
  const sensors = plant.instruments.map((one) => createSensor(one, { seed, plant: plant.id, ideal: false }))
  if (fault) sensors.find((one) => one.instrument.id === fault.instrument)!.setFault(fault.kind)
  const schedule = createSchedule(sensors)
  const broker = memoryBroker()
  let now = START
  const live = createLivePlant(plant, {
    journal: memoryJournal(),
    counterStore: { load: () => undefined, save: () => true },
    mono: () => now,
    onTransition: () => {},
  })
  live.setConnected(true)
  const clock = { ...systemClock, now: () => now, mono: () => now }
  createIngest({ plants: [plant], broker, clock, onReading: live.takeReading })
  for (const truth of steps) {
    now += STEP_MS
    for (const { topic, payload } of schedule.due(now, (quantity) => ({ value: truth.get(quantity)! })))
      broker.deliver({ topic, payload, receivedAt: now })
    if (now % TICK_MS === 0) live.tick(now)
  }
  return live
}
