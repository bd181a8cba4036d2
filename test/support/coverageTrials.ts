import { systemClock } from '../../server/clock.ts'
import { createEvaluator } from '../../server/derive/evaluate.ts'
import { type Plan, planFigures } from '../../server/derive/plan.ts'
import { createIngest } from '../../server/ingest/ingest.ts'
import type { Instrument } from '../../server/plant/plant.ts'
import { createSchedule } from '../../simulator/publish/schedule.ts'
import { createRandom, normal } from '../../simulator/random.ts'
import { createSensor } from '../../simulator/sensors/sensor.ts'
import { createSite, type Site } from '../../simulator/site.ts'
import { START } from './manualClock.ts'
import { memoryBroker } from './memoryBroker.ts'

/** How often the shown 95 % interval held the simulator's own value, by figure. */
export interface Coverage {
  figure: string
  trials: number
  covered: number
}

/** The plant is recorded this finely; messages go out on a coarser beat that divides every instrument's period. */
const RECORD_MS = 10
const BEAT_MS = 50
const SETTLE_S = 60
const RECORD_S = 90
/** Long enough for twenty-one readings of an instrument that sends every half second. */
const TRIAL_MS = 12_000
const SLOWEST_BEAT_MS = 500

/**
 * Plays the simulated plant once and every trial's instruments over that recording: what differs between trials is
 * what differs between instruments of one class, and the moment at which they are read. Payload, decoding, scatter,
 * formulas and coverage are the server's own.
 */
export function coverageTrials(
  plantId: string,
  figures: readonly string[],
  seeds: readonly number[],
): Coverage[] {
  const site = createSite(plantId)
  const record = recordTruth(site)
  const plan = planFigures(site.plant)
  const instruments = instrumentsOf(plan, figures)
  const counts = figures.map((figure) => ({ figure, trials: 0, covered: 0 }))
  for (const seed of seeds) {
    const { evaluator, truth } = playTrial({
      plan: withWrongConstants(plan, seed),
      instruments,
      record,
      seed,
    })
    for (const count of counts) {
      const { value, u95 = 0 } = evaluator.view(plan.indexOf.get(count.figure)!)
      count.trials++
      if (value !== null && Math.abs(value - truth.get(count.figure)!) <= u95) count.covered++
    }
  }
  return counts
}

/** The plant file as somebody writes it who knows its constants and curves as well as their ± says. */
function withWrongConstants(plan: Plan, seed: number): Plan {
  const random = createRandom(seed, 'constants')
  const column = Float64Array.from(plan.column)
  const places = new Map<string, number>()
  for (const { path, slot, error } of plan.doubtful) {
    const name = error.calibration ?? path
    if (!places.has(name))
      places.set(name, error.isRectangular ? 2 * random() - 1 : normal(random) / 1.959964)
    column[slot]! += places.get(name)! * error.half
  }
  return { ...plan, column }
}

type Truth = ReadonlyMap<string, number>

function recordTruth(site: Site): Truth[] {
  site.step(SETTLE_S)
  return Array.from({ length: (RECORD_S * 1000) / RECORD_MS }, () => {
    site.step(RECORD_MS / 1000)
    return site.truth()
  })
}

/** Only what the figures depend on is played; the rest of the plant would take most of the time. */
function instrumentsOf(plan: Plan, figures: readonly string[]): Instrument[] {
  const found = new Set<Instrument>()
  const visit = (index: number) => {
    const node = plan.nodes[index]!
    if (node.kind === 'measured') found.add(node.instrument)
    else node.inputs.forEach(visit)
  }
  for (const figure of figures) visit(plan.indexOf.get(figure)!)
  return [...found]
}

interface Trial {
  plan: Plan
  instruments: readonly Instrument[]
  record: readonly Truth[]
  seed: number
}

function playTrial({ plan, instruments, record, seed }: Trial) {
  const { plant } = plan
  const random = createRandom(seed, 'moment')
  // Nobody looks in step with the instruments: the trial ends anywhere within their beat.
  const length = TRIAL_MS + random() * SLOWEST_BEAT_MS
  const first = Math.floor(random() * (record.length - length / RECORD_MS))
  const truthAt = (ms: number) => record[first + Math.floor(ms / RECORD_MS)]!
  const schedule = createSchedule(
    instruments.map((one) => createSensor(one, { seed, plant: plant.id, ideal: false })),
  )
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  const broker = memoryBroker()
  let now = START
  const clock = { ...systemClock, now: () => now, mono: () => now }
  createIngest({ plants: [plant], broker, clock, onReading: evaluator.take })
  for (let ms = 0; ms <= length; ms += BEAT_MS) {
    now = START + ms
    const truth = truthAt(ms)
    for (const { topic, payload } of schedule.due(now, (quantity) => ({ value: truth.get(quantity)! })))
      broker.deliver({ topic, payload, receivedAt: now })
  }
  evaluator.evaluate(START + length)
  return { evaluator, truth: truthAt(length) }
}
