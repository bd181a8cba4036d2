import { systemClock } from '../../server/clock.ts'
import { createIngest } from '../../server/ingest/ingest.ts'
import type { Plant } from '../../server/plant/plant.ts'
import type { Trials } from '../../server/trials/trials.ts'
import type { PointRunReply, RunReply, TraceRunReply } from '../../server/wire/trial.ts'
import { createSchedule } from '../../simulator/publish/schedule.ts'
import { createSensor } from '../../simulator/sensors/sensor.ts'
import { createSite } from '../../simulator/site.ts'
import { livePlantOf } from './livePlantOf.ts'
import { START } from './manualClock.ts'
import { memoryBroker } from './memoryBroker.ts'
import { openTrialBench, taking } from './trialBench.ts'

/** What the operator does: sets the plant by the simulator's commands and waits. */
export interface Move {
  settings: Record<string, number | boolean | string>
  seconds: number
  /** Presses "repeat" first. */
  repeats?: true
}

/** True values of a plant under an operator, recorded once and read by ever new sets of instruments. */
export interface RecordedTrial {
  plant: Plant
  moves: readonly Move[]
  /** By quantity, one value every 50 ms. */
  columns: ReadonlyMap<string, Float64Array>
}

export const STEP_MS = 50
const SAMPLE_MS = 500

/** @param instruments Those that take part; the others would only cost time. */
export function recordTrial(
  id: string,
  { seed, moves, instruments }: { seed: number; moves: readonly Move[]; instruments: readonly string[] },
): RecordedTrial {
  const site = createSite(id, { seed })
  for (const name of instruments)
    if (!site.plant.instruments.some((one) => one.id === name))
      throw new RangeError(`no instrument "${name}"`)
  const plant = {
    ...site.plant,
    instruments: site.plant.instruments.filter((one) => instruments.includes(one.id)),
    alarms: [],
  }
  const steps = moves.reduce((sum, move) => sum + (move.seconds * 1000) / STEP_MS, 0)
  const columns = new Map([...site.truth().keys()].map((quantity) => [quantity, new Float64Array(steps)]))
  let step = 0
  for (const { settings, seconds } of moves) {
    for (const [control, value] of Object.entries(settings)) {
      const refusal = site.command(control, value)
      if (refusal !== undefined) throw new RangeError(refusal)
    }
    for (let i = 0; i < (seconds * 1000) / STEP_MS; i++, step++) {
      site.step(STEP_MS / 1000)
      for (const [quantity, value] of site.truth()) columns.get(quantity)![step] = value
    }
  }
  return { plant, moves, columns }
}

export interface ReadOptions {
  seed: number
  trial: string
  /** The plant as the server knows it; its instruments are those of the recording. */
  known?: Plant
}

/** The trial as done with the instruments of `seed`. */
export async function readPoints(recording: RecordedTrial, reading: ReadOptions): Promise<PointRunReply> {
  return taking('points', (await packTrial(recording, reading, async () => {})).reply)
}

/** The same for a trial that takes traces. */
export async function readTraces(recording: RecordedTrial, reading: ReadOptions): Promise<TraceRunReply> {
  return taking('traces', (await packTrial(recording, reading, async () => {})).reply)
}

/** The same, and whatever is wanted of the run afterwards, such as its pack. */
export async function packTrial<T>(
  { plant, moves, columns }: RecordedTrial,
  { seed, trial, known = plant }: ReadOptions,
  after: (trials: Trials, run: number) => Promise<T>,
): Promise<{ reply: RunReply; after: T }> {
  let now = START
  const live = livePlantOf(known, { mono: () => now })
  live.setConnected(true)
  const broker = memoryBroker()
  const clock = { ...systemClock, now: () => now, mono: () => now }
  createIngest({
    plants: [plant],
    broker,
    clock,
    onReading(reading) {
      live.takeReading(reading)
      bench.trials.takeReading(reading)
    },
  })
  const schedule = createSchedule(
    plant.instruments.map((one) => createSensor(one, { seed, plant: plant.id, ideal: false })),
  )
  const bench = openTrialBench(live, () => now)
  try {
    const started = bench.trials.start(live, { trial, name: 'operator' }, 'operator')
    if (!started.ok) throw new Error(started.error)
    const { run } = started.value
    let step = 0
    for (const { seconds, repeats } of moves) {
      if (repeats) bench.trials.repeat(plant.id, run)
      for (let i = 0; i < (seconds * 1000) / STEP_MS; i++, step++) {
        now += STEP_MS
        const messages = schedule.due(now, (quantity) => ({ value: columns.get(quantity)![step]! }))
        for (const { topic, payload } of messages) broker.deliver({ topic, payload, receivedAt: now })
        if (now % SAMPLE_MS !== 0) continue
        live.tick(now)
        bench.trials.tick(now)
      }
    }
    const reply = await bench.trials.run(plant.id, run)
    if (!reply.ok) throw new Error(reply.error)
    return { reply: reply.value, after: await after(bench.trials, run) }
  } finally {
    await bench.close()
  }
}

/** Largest share by which a true value moved along a straight line while a point was taken. */
export function trueMovement(
  { columns }: RecordedTrial,
  quantity: string,
  { from, at }: { from: number; at: number },
): number {
  const values = columns.get(quantity)!.subarray((from - START) / STEP_MS, (at - START) / STEP_MS)
  const third = Math.floor(values.length / 3)
  const mean = (part: Float64Array) => part.reduce((sum, value) => sum + value, 0) / part.length
  return Math.abs(mean(values.subarray(-third)) - mean(values.subarray(0, third))) / Math.abs(mean(values))
}
