import { systemClock } from '../../server/clock.ts'
import { relationsOf } from '../../server/derive/agreement/relations/index.ts'
import { createIngest } from '../../server/ingest/ingest.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { createSchedule } from '../../simulator/publish/schedule.ts'
import { createRandom, normal } from '../../simulator/random.ts'
import { createSensor } from '../../simulator/sensors/sensor.ts'
import { createSite } from '../../simulator/site.ts'
import { livePlantOf, type TestPlant } from './livePlantOf.ts'
import { START } from './manualClock.ts'
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

/** Relations and the constants of the plant file that they take for granted. */
const ASSUMED: Record<string, readonly string[]> = {
  nozzleResidual: ['turbine.nozzleCoefficient'],
  pumpResidual: ['pump.ratedHead'],
  pipeResidual: ['penstock.minorLoss'],
  penstockResidual: ['penstock.minorLoss'],
  driveResidual: ['turbine.driveRatio'],
  slipResidual: ['generator.ratedSpeed'],
  voltageResidual: ['generator.voltageConstant'],
  meterResidual: ['generator.loadPowerFactor'],
  rectifierResidual: ['charger.rectifierEfficiency'],
  busResidual: ['charger.efficiency'],
}
const ASSUMED_CURVES: Record<
  string,
  readonly [section: 'turbine' | 'generator' | 'inverter', curve: string]
> = {
  spearResidual: ['turbine', 'nozzleCurve'],
  turbineResidual: ['turbine', 'efficiencyCurve'],
  turbineShaftResidual: ['turbine', 'efficiencyCurve'],
  waterToWireResidual: ['turbine', 'efficiencyCurve'],
  generatorResidual: ['generator', 'efficiencyCurve'],
  turbineToGeneratorResidual: ['generator', 'efficiencyCurve'],
  inverterResidual: ['inverter', 'efficiencyCurve'],
}

/**
 * The plant as its file might have it: the simulated machines are not quite what the file says, each constant off by a
 * normal error of the standard uncertainty that the plant grants the relation.
 */
export function misjudged(plant: Plant, seed: number): Plant {
  const random = createRandom(seed, 'misjudged')
  const constants = new Map(plant.constants)
  const copy = { ...plant, constants }
  for (const { id, share, quantity } of relationsOf(plant)) {
    if (quantity.ways[0]!.applies?.(plant) === false) continue
    const factor = 1 + (plant.relations[id] ?? share) * normal(random)
    for (const path of ASSUMED[id] ?? []) constants.set(path, constants.get(path)! * factor)
    const [section, curve] = ASSUMED_CURVES[id] ?? []
    if (section === undefined || curve === undefined) continue
    const before = copy[section] as Record<string, unknown>
    const points = before[curve] as [number, number][]
    Object.assign(copy, {
      [section]: { ...before, [curve]: points.map(([x, y]): [number, number] => [x, y * factor]) },
    })
  }
  return copy
}

/**
 * Instruments with the errors of `seed` read the recording into a live plant; `fault` is one of the sensor faults,
 * `known` the plant as the server knows it.
 */
export function readRecording(
  { plant, steps }: RecordedPlant,
  {
    seed,
    fault,
    known = plant,
  }: { seed: number; fault?: { instrument: string; kind: string }; known?: Plant },
): TestPlant {
  const sensors = plant.instruments.map((one) => createSensor(one, { seed, plant: plant.id, ideal: false }))
  if (fault) sensors.find((one) => one.instrument.id === fault.instrument)!.setFault(fault.kind)
  const schedule = createSchedule(sensors)
  const broker = memoryBroker()
  let now = START
  const live = livePlantOf(known, { mono: () => now })
  live.setConnected(true)
  const clock = { ...systemClock, now: () => now, mono: () => now }
  createIngest({ plants: [known], broker, clock, onReading: live.takeReading })
  for (const truth of steps) {
    now += STEP_MS
    for (const { topic, payload } of schedule.due(now, (quantity) => ({ value: truth.get(quantity)! })))
      broker.deliver({ topic, payload, receivedAt: now })
    if (now % TICK_MS === 0) live.tick(now)
  }
  return live
}
