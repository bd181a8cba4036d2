import { counterKinds } from '../derive/counterKinds.ts'
import { type Counters, createCounters } from '../derive/counters.ts'
import { createCounterMemory } from '../derive/counting/counterMemory.ts'
import { QUARTER_MS, quarterOf } from '../derive/counting/quarters.ts'
import type { Recount } from '../derive/counting/recount.ts'
import { createEvaluator, type Evaluator } from '../derive/evaluate.ts'
import { HELD_MS } from '../derive/integrate.ts'
import { createLookup } from '../derive/lookup.ts'
import { type Plan, planFigures } from '../derive/plan.ts'
import { HOUR_MS } from '../history/grid.ts'
import { createRecorder, signalName } from '../history/recorder.ts'
import type { HistoryReader, Rewrite, SampleBatch } from '../history/store.ts'
import type { Plant } from '../plant/plant.ts'
import { recordedQuality, recordedReading } from '../replay/recordedPlant.ts'
import { type RecordedSample, samplesBefore, samplesBetween } from '../replay/recordedSamples.ts'
import { SETTLE_MS } from './lateQuarters.ts'

/** Whole quarters of an hour of one plant whose figures are to be derived anew; plain data. */
export interface DeriveTask {
  plant: Plant
  /** [ms UTC] */
  from: number
  to: number
  now: number
}

/** What its counters gave; or when it can be told: a meter's next reading lies in a quarter that is not over yet. */
export type Derived = { recounts: Recount[] } | { waitsUntil: number }

/** Evaluations lie on whole steps, as they are live [ms]; where nothing came, once a second is enough to see it. */
const STEP_MS = 200
const SECOND_MS = 1000
/** What is fed before the span, so that windows, slopes and scatter are what they were [ms]. */
const LEAD_IN_MS = 900_000
/** Recorded time that is read with one question [ms]. */
const PIECE_MS = 300_000
/** A meter is looked for so far around the span [ms]: what it counted in between belongs together. */
const METER_REACH_MS = 7 * 86_400_000

type Source = Pick<HistoryReader, 'samples'>
type Span = { from: number; to: number }

/**
 * Feeds what is recorded of the instruments into fresh figures and counters, as it would have gone live. What is not recorded
 * is not there: peaks between readings, and that a source was away.
 *
 * @param write Told of the figures of the span, hour by hour.
 */
export async function deriveSpan(
  task: DeriveTask,
  history: Source,
  write: (change: Rewrite) => Promise<void>,
): Promise<Derived> {
  const { plant, now } = task
  const counted = await withMeters(task, history)
  if (counted.to > quarterOf(now - SETTLE_MS)) return { waitsUntil: counted.to + SETTLE_MS }
  const player = createPlayer(plant, task)
  const begin = counted.from - LEAD_IN_MS
  const end = Math.min(now, counted.to + tailOf(plant))
  player.take(await samplesBefore(history, player, begin))
  for (let through = begin; through < end; ) {
    const piece = await samplesBetween(history, player, {
      from: through,
      to: Math.min(end, through + PIECE_MS),
    })
    player.play(piece.samples, through, piece.through)
    through = piece.through
  }
  for (const change of player.figures()) await write(change)
  return { recounts: player.counters.ended(counted) }
}

/** So long after the span what came still tells of its end. */
function tailOf({ instruments }: Plant): number {
  const silences = instruments.filter((one) => one.periodic).map((one) => one.staleAfterMs)
  return Math.min(LEAD_IN_MS, Math.max(HELD_MS, ...silences))
}

/** The span with the quarters from a meter's last reading before it to its next one behind it, where that is far. */
async function withMeters({ plant, from, to, now }: DeriveTask, history: Source): Promise<Span> {
  const roles: unknown[] = counterKinds.map(({ counting }) => 'meter' in counting && counting.meter?.role)
  const wide = { from, to }
  for (const { quantity, role, periodic, staleAfterMs } of plant.instruments) {
    if (role === undefined || !roles.includes(role)) continue
    const near = periodic ? staleAfterMs : 0
    const signals = [signalName(plant.id, quantity)]
    const before = await history.samples({ signals, from, to: from + 1, lead: METER_REACH_MS, limit: 10 })
    const last = before.at[0] ?? from
    if (from - last > near) wide.from = Math.min(wide.from, quarterOf(last))
    if (to >= now) continue
    const after = { from: to, to: Math.min(now, to + METER_REACH_MS), lead: 0, limit: 1 }
    const { at, through } = await history.samples({ signals, ...after })
    const next = at[0] ?? (through < after.to ? through : to)
    if (next - to > near) wide.to = Math.max(wide.to, quarterOf(next) + QUARTER_MS)
  }
  return wide
}

interface Player {
  signals: readonly string[]
  sparse: readonly string[]
  counters: Counters
  take(samples: readonly RecordedSample[]): void
  /** Brings figures and counters from one moment to another. */
  play(samples: readonly RecordedSample[], from: number, to: number): void
  /** What was worked out within the span. */
  figures(): Rewrite[]
}

function createPlayer(plant: Plant, span: Span): Player {
  const plan = planFigures(plant)
  const evaluator = createEvaluator(plan)
  const figures = createLookup(plan, evaluator)
  const store = createCounterMemory()
  const counters = createCounters({ plan, evaluator: { setAccumulated() {} }, figures, store })
  const places = plan.nodes.filter((node) => node.kind !== 'derived')
  const nameOf = (node: (typeof places)[number]) => signalName(plant.id, node.description.id)
  const derived = createCollector({ plant, plan, evaluator }, span)

  function take(samples: readonly RecordedSample[]): void {
    for (const sample of samples) {
      const node = places[sample.signal]!
      const { at, value } = sample
      if (node.kind !== 'measured')
        evaluator.setAccumulated(node.index, {
          value,
          u: 0,
          at,
          quality: recordedQuality(sample),
          reasons: [],
        })
      else if (!Number.isNaN(value))
        for (const one of evaluator.take(recordedReading(plant, node, sample))) counters.takeReading(one)
    }
  }

  return {
    signals: places.map(nameOf),
    sparse: places.filter((node) => node.kind === 'measured' && !node.instrument.periodic).map(nameOf),
    counters,
    take,
    play(samples, from, to) {
      let taken = 0
      for (let moment = nextStep(from); moment <= to; moment += STEP_MS) {
        const first = taken
        while (taken < samples.length && samples[taken]!.at <= moment) taken++
        const isSecond = moment % SECOND_MS === 0
        if (taken === first && !isSecond) continue
        take(samples.slice(first, taken))
        evaluator.evaluate(moment)
        counters.tick(moment)
        if (isSecond) derived.collect()
      }
      take(samples.slice(taken))
    },
    figures: derived.changes,
  }
}

interface Derivation {
  plant: Plant
  plan: Plan
  evaluator: Evaluator
}

/** Figures as the recorder takes them live, once a second, of what is derived within the span. */
function createCollector(derivation: Derivation, { from, to }: Span) {
  const { plant, plan } = derivation
  const signals = plan.nodes
    .filter((node) => node.kind === 'derived')
    .map((node) => signalName(plant.id, node.description.id))
  const isDerived = new Set(signals)
  const hours = new Map<number, Rows>()
  const recorder = createRecorder({
    append({ signals: names, at, value, quality }) {
      for (const [i, moment] of at.entries()) {
        if (!isDerived.has(names[i]!) || moment < from || moment >= to) continue
        const hour = Math.floor(moment / HOUR_MS)
        const rows = hours.get(hour) ?? { signals: [], at: [], value: [], quality: [] }
        hours.set(hour, rows)
        rows.signals.push(names[i]!)
        rows.at.push(moment)
        rows.value.push(value[i]!)
        rows.quality.push(quality[i]!)
      }
    },
  })

  return {
    collect() {
      recorder.takeFigures(derivation)
      recorder.handOver()
    },
    changes(): Rewrite[] {
      const changes: Rewrite[] = []
      for (let begin = from; begin < to; ) {
        const hour = Math.floor(begin / HOUR_MS)
        const end = Math.min(to, (hour + 1) * HOUR_MS)
        changes.push({ signals, from: begin, to: end, rows: batchOf(hours.get(hour)) })
        begin = end
      }
      return changes
    },
  }
}

interface Rows {
  signals: string[]
  at: number[]
  value: number[]
  quality: number[]
}

function batchOf(rows?: Rows): SampleBatch {
  return {
    signals: rows?.signals ?? [],
    at: Float64Array.from(rows?.at ?? []),
    value: Float64Array.from(rows?.value ?? []),
    quality: Uint8Array.from(rows?.quality ?? []),
  }
}

function nextStep(at: number): number {
  return Math.floor(at / STEP_MS + 1) * STEP_MS
}
