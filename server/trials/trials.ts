import type { Clock } from '../clock.ts'
import type { LivePlant } from '../livePlant.ts'
import type { State } from '../state/openState.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type {
  ManualPointRequest,
  NotesRequest,
  RunReply,
  RunRequest,
  RunSummary,
  TrialPoint,
  TrialResult,
  TrialsReply,
  TrialView,
  VerdictRequest,
} from '../wire/trial.ts'
import { type ActiveRun, createActiveRun, MOST_POINTS } from './activeRun.ts'
import { SAMPLE_MS } from './capture/samples.ts'
import { trials as allTrials } from './definitions/index.ts'
import { type CurveKind, fitRequestOf } from './fit/fitRequest.ts'
import { readManualPoint } from './manualPoint.ts'
import { methodOf, type RunMethod } from './runMethod.ts'
import { createRunStore, type RunStore } from './runStore.ts'
import { createTrialThread, type TrialThread } from './trialThread.ts'
import { viewTrial } from './trialView.ts'

/** An action that cannot be done: the status for HTTP and a sentence for the person. */
export interface Refusal {
  status: 400 | 404 | 409 | 503
  error: string
  faults?: { path: string; received: string; expected: string }[]
}

export type Done<T> = { ok: true; value: T } | ({ ok: false } & Refusal)

/** Guided tests of all plants, and the runs that were saved. */
export interface Trials {
  list(live: LivePlant): TrialsReply
  run(plant: string, run: number): Promise<Done<RunReply>>
  /** The run under way at a plant, as far as it has come. */
  underWay(plant: string): { run: number; trial: TrialView; points: TrialPoint[] } | undefined
  start(live: LivePlant, request: RunRequest, by: string): Done<{ run: number }>
  /** A point that somebody typed. */
  enter(plant: string, run: number, request: ManualPointRequest): Done<{ number: number }>
  decide(plant: string, run: number, verdict: VerdictRequest & { number: number }): Done<null>
  repeat(plant: string, run: number): Done<null>
  edit(plant: string, run: number, notes: NotesRequest): Done<null>
  finish(plant: string, run: number): Done<null>
  /** A zip file with everything that belongs to a run. */
  pack(plant: string, run: number): Promise<Done<Uint8Array>>
  /** Curves and packs that wait for their thread. */
  queue(): QueueHealth
  /** Takes one sample of every run under way. */
  tick(now: number): void
  close(): Promise<void>
}

export interface TrialsOptions {
  state: State
  clock: Clock
  plants: () => ReadonlyMap<string, LivePlant>
  /** Where curves are laid; default one of its own. */
  thread?: TrialThread
}

const MOST_RUNS_SHOWN = 200
/** Curves that are kept; older ones are laid anew when they are asked for. */
const MOST_RESULTS = 200

export function createTrials(options: TrialsOptions): Trials {
  const { state, clock, plants, thread = createTrialThread() } = options
  const store = createRunStore(state)
  const active = new Map<number, ActiveRun>()
  const results = new Map<string, { key: string; result: Promise<TrialResult> }>()
  const stop = clock.every(SAMPLE_MS, () => tick(clock.now()))
  for (const id of store.open()) watch(id)

  function watch(id: number): void {
    const { summary, method } = store.run(id)!
    const { plant, by } = summary
    active.set(id, createActiveRun({ id, plant, by, method, store, live: () => plants().get(plant) }))
  }

  function tick(now: number): void {
    for (const run of active.values()) run.tick(now)
  }

  /** The curve through the kept points; laid anew only when they changed. */
  function resultOf(id: number, method: RunMethod, kind: CurveKind = 'actual'): Promise<TrialResult> {
    const points = store.points(id)
    const key = points.map((point) => `${point.number}${point.verdict}`).join()
    const name = `${id} ${kind}`
    const known = results.get(name)
    if (known?.key === key) return known.result
    const result = thread.fit(fitRequestOf({ run: id, kind, method, points }))
    if (!known && results.size >= MOST_RESULTS) results.delete([...results.keys()][0]!)
    results.set(name, { key, result })
    return result
  }

  function find(plant: string, run: number): Done<NonNullable<ReturnType<RunStore['run']>>> {
    const found = store.run(run)
    return found && found.summary.plant === plant
      ? { ok: true, value: found }
      : { ok: false, status: 404, error: `This plant has no run ${run}.` }
  }

  function findOpen(plant: string, run: number): Done<{ active: ActiveRun; method: RunMethod }> {
    const found = find(plant, run)
    if (!found.ok) return found
    const under = active.get(run)
    return under
      ? { ok: true, value: { active: under, method: found.value.method } }
      : { ok: false, status: 409, error: 'This run is finished. Start another.' }
  }

  return {
    list(live) {
      const under = [...active.values()].find((run) => run.plant === live.plant.id)
      return {
        trials: allTrials.map((trial) => viewTrial(trial, live.plan)),
        runs: store.runs(live.plant.id, MOST_RUNS_SHOWN),
        active: under?.id ?? null,
      }
    },
    async run(plant, run) {
      const found = find(plant, run)
      if (!found.ok) return found
      const { method } = found.value
      const result = await resultOf(run, method)
      const hasUnit = method.view.unitAbscissa !== null
      const unitResult = hasUnit ? await resultOf(run, method, 'unit') : null
      const guidance = active.get(run)?.guidance(clock.now(), result) ?? null
      const points = store.points(run)
      return {
        ok: true,
        value: { run: summaryNow(store, run), trial: method.view, points, result, unitResult, guidance },
      }
    },
    underWay(plant) {
      const under = [...active.values()].find((run) => run.plant === plant)
      return under && { run: under.id, trial: under.trial, points: store.points(under.id) }
    },
    start(live, request, by) {
      const trial = allTrials.find((one) => one.id === request.trial)
      if (!trial)
        return { ok: false, status: 404, error: `There is no trial "${request.trial.slice(0, 64)}".` }
      const method = methodOf(trial, live)
      if (method.view.lacking.length > 0)
        return {
          ok: false,
          status: 409,
          error: `Not possible at this plant: ${method.view.lacking.join('; ')}.`,
        }
      const plant = live.plant.id
      const other = [...active.values()].find((run) => run.plant === plant)
      if (other)
        return {
          ok: false,
          status: 409,
          error: `Run ${other.id} is under way at this plant. Finish it first.`,
        }
      const { name, className = '', group = '', year = '' } = request
      const texts = { name, className, group, year }
      const id = store.start({ plant, trial: trial.id, at: clock.now(), by, method, ...texts })
      if (id === undefined) return NOT_STORED
      watch(id)
      return { ok: true, value: { run: id } }
    },
    enter(plant, run, request) {
      const found = findOpen(plant, run)
      if (!found.ok) return found
      const read = readManualPoint(request, found.value.method, clock.now())
      if ('faults' in read)
        return { ok: false, status: 400, error: 'The point cannot be used.', faults: read.faults }
      const number = store.points(run).length + 1
      if (number > MOST_POINTS)
        return { ok: false, status: 409, error: `A run has at most ${MOST_POINTS} points. Start another.` }
      const isStored = store.addPoint(run, { ...read.point, number, verdict: 'kept', reason: '' }, null)
      return isStored ? { ok: true, value: { number } } : NOT_STORED
    },
    decide(plant, run, { number, verdict, reason = '' }) {
      const found = find(plant, run)
      if (!found.ok) return found
      if (!store.points(run).some((point) => point.number === number))
        return { ok: false, status: 404, error: `Run ${run} has no point ${number}.` }
      if (verdict === 'rejected' && reason.trim() === '')
        return { ok: false, status: 400, error: 'Say why the point is rejected: the reason stays with it.' }
      return doneIf(store.decide(run, number, { verdict, reason: verdict === 'kept' ? '' : reason.trim() }))
    },
    repeat(plant, run) {
      const found = findOpen(plant, run)
      if (!found.ok) return found
      found.value.active.repeat()
      return { ok: true, value: null }
    },
    edit(plant, run, notes) {
      const found = find(plant, run)
      return found.ok ? doneIf(store.edit(run, notes)) : found
    },
    finish(plant, run) {
      const found = findOpen(plant, run)
      if (!found.ok) return found
      if (!store.finish(run, clock.now())) return NOT_STORED
      active.delete(run)
      return { ok: true, value: null }
    },
    async pack(plant, run) {
      const found = find(plant, run)
      if (!found.ok) return found
      const { method, summary } = found.value
      const result = await resultOf(run, method)
      const zip = await thread.pack({ summary, method, result, stored: store.stored(run) })
      if (!zip) return { ok: false, status: 503, error: 'The pack could not be made. Try again in a moment.' }
      return { ok: true, value: zip }
    },
    queue: thread.queue,
    tick,
    async close() {
      stop()
      await thread.close()
    },
  }
}

const NOT_STORED: { ok: false } & Refusal = {
  ok: false,
  status: 503,
  error: 'It could not be stored: the disk may be full. Nothing was changed.',
}

function doneIf(isStored: boolean): Done<null> {
  return isStored ? { ok: true, value: null } : NOT_STORED
}

function summaryNow(store: RunStore, run: number): RunSummary {
  return store.run(run)!.summary
}
