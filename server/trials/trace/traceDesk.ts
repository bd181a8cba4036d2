import type { Clock } from '../../clock.ts'
import type { Reading } from '../../ingest/reading.ts'
import type { LivePlant } from '../../livePlant.ts'
import { DONE, doneIf, granted, type Outcome, refuse } from '../../outcome.ts'
import type { State } from '../../state/openState.ts'
import type { TraceEnding, TraceReply, TraceRunView, TraceView } from '../../wire/trace.ts'
import type { RunReply, TrialPoint, VerdictRequest } from '../../wire/trial.ts'
import type { RunStore } from '../runStore.ts'
import type { TrialThread } from '../trialThread.ts'
import { NO_CURVE, NO_FINDINGS } from './noCurve.ts'
import type { PackedTraces } from './packedTraces.ts'
import type { ReducedRun, ReduceRequest } from './reduceTraces.ts'
import type { TracePlan } from './tracePlan.ts'
import { createTraceRun, type TraceRun } from './traceRun.ts'
import { createTraceStore, type StoredTrace } from './traceStore.ts'

type FoundRun = NonNullable<ReturnType<RunStore['run']>>

/** Everything about traces that runs of a plant share: those under way, what is stored, and what it says. */
export interface TraceDesk {
  takeReading(reading: Reading): void
  tick(now: number): void
  watch(run: number, plant: string, plan: TracePlan): void
  /** Runs under way. */
  active(): TraceRun[]
  isOpen(run: number): boolean
  /** The run ends; a trace under way ends with it. */
  finish(run: number): void
  reply(found: FoundRun): Promise<RunReply>
  packed(found: FoundRun): Promise<PackedTraces>
  arm(run: number, armed: boolean): Outcome<null>
  decide(run: number, verdict: VerdictRequest & { number: number }): Outcome<null>
  draw(run: number, number: number): Promise<Outcome<TraceReply>>
}

export interface TraceDeskOptions {
  state: State
  clock: Clock
  runs: RunStore
  thread: TrialThread
  plants: () => ReadonlyMap<string, LivePlant>
}

/** Runs whose numbers are kept; those of others are worked out anew. */
const MOST_RESULTS = 100
/** A long trace is reduced while it is recorded, every so often [ms]. */
const LONG_SECONDS = 600
const LIVE_MS = 5000

export function createTraceDesk({ state, clock, runs, thread, plants }: TraceDeskOptions): TraceDesk {
  const store = createTraceStore(state)
  const active = new Map<number, TraceRun>()
  const results = new Map<number, { key: string; reduced: Promise<ReducedRun> }>()

  function requestOf(run: number, plan: TracePlan): { request: () => ReduceRequest; key: string } {
    const isLong = plan.view.longestSeconds > LONG_SECONDS
    const traces = store.traces(run).filter((one) => isLong || one.ended !== null)
    const points = runs.points(run)
    const look = traces.some((one) => one.ended === null) ? Math.floor(clock.now() / LIVE_MS) : ''
    const key = [
      look,
      ...traces.map((one) => `${one.number}${one.verdict}${one.ended}`),
      ...points.map((one) => `p${one.number}${one.verdict}`),
    ].join()
    const request = () => ({
      plan,
      typed: points.flatMap((point) => typedOf(point, plan)),
      traces: traces.map((one) => ({
        number: one.number,
        triggeredAt: one.triggered,
        endedAt: one.ended,
        isKept: one.verdict === 'kept',
        raw: store.raw(run, one.number),
      })),
    })
    return { request, key }
  }

  /** What the traces say; worked out anew only when they changed. */
  function reducedOf(run: number, plan: TracePlan): Promise<ReducedRun> {
    const { request, key } = requestOf(run, plan)
    const known = results.get(run)
    if (known?.key === key) return known.reduced
    const reduced = thread.reduce(request())
    if (!known && results.size >= MOST_RESULTS) results.delete([...results.keys()][0]!)
    results.set(run, { key, reduced })
    return reduced
  }

  async function viewOf(run: number, plan: TracePlan): Promise<TraceRunView> {
    const { results: byNumber, together } = await reducedOf(run, plan)
    return {
      traces: store.traces(run).map((one) => viewTrace(one, byNumber[one.number] ?? null)),
      together,
      guidance: active.get(run)?.guidance(clock.now()) ?? null,
    }
  }

  return {
    takeReading(reading) {
      for (const run of active.values()) if (run.plant === reading.plant) run.takeReading(reading)
    },
    tick(now) {
      for (const run of active.values()) run.tick(now)
    },
    watch(id, plant, plan) {
      const live = () => plants().get(plant)
      active.set(id, createTraceRun({ id, plant, plan, store, live, startedAt: clock.now() }))
    },
    active: () => [...active.values()],
    isOpen: (run) => active.has(run),
    finish(run) {
      active.get(run)?.close(clock.now())
      active.delete(run)
    },
    async reply({ summary, method }) {
      const trace = await viewOf(summary.id, method.trace!)
      const points = runs.points(summary.id)
      return {
        run: runs.run(summary.id)?.summary ?? summary,
        trial: method.view,
        ...{ points, trace, result: NO_CURVE, findings: NO_FINDINGS, guidance: null },
        ...{ unitResult: null, theory: null, unitTheory: null },
      }
    },
    async packed({ summary, method }) {
      const view = await viewOf(summary.id, method.trace!)
      return {
        view,
        raw: Object.fromEntries(view.traces.map(({ number }) => [number, store.raw(summary.id, number)])),
      }
    },
    arm(run, armed) {
      const under = active.get(run)
      if (!under) return refuse(409, 'This run is finished, or records no traces.')
      under.arm(armed, clock.now())
      return DONE
    },
    decide(run, { number, verdict, reason = '' }) {
      const trace = store.traces(run).find((one) => one.number === number)
      if (!trace) return refuse(404, `Run ${run} has no trace ${number}.`)
      if (verdict === 'rejected' && reason.trim() === '')
        return refuse(400, 'Say why the trace is rejected: the reason stays with it.')
      const text = verdict === 'kept' ? '' : reason.trim()
      return doneIf(store.decide(run, number, { verdict, reason: text }))
    },
    async draw(run, number) {
      const trace = store.traces(run).find((one) => one.number === number)
      if (!trace) return refuse(404, `Run ${run} has no trace ${number}.`)
      const known = (await results.get(run)?.reduced)?.results[number]
      const zeroAt = known?.isReduced ? known.zeroAt : trace.triggered
      const drawn = await thread.draw({ number, zeroAt, raw: store.raw(run, number) })
      if (!drawn) return refuse(503, 'The trace could not be read. Try again in a moment.')
      return granted(drawn)
    },
  }
}

const ENDINGS: Record<TraceEnding, string> = {
  recording: 'under way',
  complete: 'complete',
  time: 'ended after the longest time',
  stopped: 'ended by hand',
  interrupted: 'cut short: the server was started anew',
  full: 'ended: the most readings were kept',
  notStored: 'the last readings could not be stored',
}

function viewTrace(one: StoredTrace, result: TraceView['result']): TraceView {
  return {
    number: one.number,
    from: one.begun,
    triggeredAt: one.triggered,
    endedAt: one.ended,
    ending: one.ending,
    endingWords: ENDINGS[one.ending],
    setting: one.setting,
    readings: one.readings,
    verdict: one.verdict,
    reason: one.reason,
    result,
  }
}

/** A typed point as the reductions know it: main quantity and what is typed. */
function typedOf({ verdict, figures }: TrialPoint, { view }: TracePlan): ReduceRequest['typed'] {
  const x = figures.find((one) => one.id === view.main)
  const y = figures.find((one) => one.id !== view.main)
  if (verdict !== 'kept' || !x || !y) return []
  return [
    { x: x.mean, y: y.mean, standard: Math.hypot(y.typeB, x.mean === 0 ? 0 : (y.mean / x.mean) * x.typeB) },
  ]
}
