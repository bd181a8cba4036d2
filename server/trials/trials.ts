import type { Clock } from '../clock.ts'
import type { Reading } from '../ingest/reading.ts'
import type { LivePlant } from '../livePlant.ts'
import { DONE, doneIf, granted, NOT_STORED, type Outcome, refuse } from '../outcome.ts'
import type { State } from '../state/openState.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { TraceReply } from '../wire/trace.ts'
import type {
  ManualPointRequest,
  NotesRequest,
  RunReply,
  RunRequest,
  RunsReply,
  TrialPoint,
  TrialsReply,
  TrialView,
  VerdictRequest,
} from '../wire/trial.ts'
import { type ActiveRun, createActiveRun, MOST_POINTS } from './activeRun.ts'
import { SAMPLE_MS } from './capture/samples.ts'
import { trials as allTrials } from './definitions/index.ts'
import { readManualPoint, readTypedValues } from './manualPoint.ts'
import { methodFor } from './methodFor.ts'
import { gatherRun, tracedRun } from './pack/gatherRun.ts'
import type { PackedRun } from './pack/packedRun.ts'
import type { RunMethod } from './runMethod.ts'
import { createRunResults } from './runResults.ts'
import { createRunStore, type RunStore, type RunsWish } from './runStore.ts'
import { runsPage } from './runsPage.ts'
import { theoryView } from './theory/theoryView.ts'
import { traceTrials } from './trace/definitions/index.ts'
import { viewTraceTrial } from './trace/placeTrace.ts'
import { createTraceDesk } from './trace/traceDesk.ts'
import { createTrialThread, type TrialThread } from './trialThread.ts'
import { viewTrial } from './trialView.ts'

/** Guided tests of all plants, and the runs that were saved. */
export interface Trials {
  list(live: LivePlant): TrialsReply
  /** Saved runs, newest first, a page at a time. */
  runs(plant: string, wish: RunsWish): RunsReply
  run(plant: string, run: number): Promise<Outcome<RunReply>>
  /** The run under way at a plant, as far as it has come. */
  underWay(plant: string): { run: number; trial: TrialView; points: TrialPoint[] } | undefined
  start(live: LivePlant, request: RunRequest, by: string): Outcome<{ run: number }>
  /** A point that somebody typed. */
  enter(plant: string, run: number, request: ManualPointRequest): Outcome<{ number: number }>
  /** Keeps or rejects a point; `by` stands in the history of its decisions. */
  decide(plant: string, run: number, verdict: VerdictRequest & { number: number; by?: string }): Outcome<null>
  repeat(plant: string, run: number): Outcome<null>
  edit(plant: string, run: number, notes: NotesRequest): Outcome<null>
  finish(plant: string, run: number): Outcome<null>
  /** A zip file with everything that belongs to a run. */
  pack(plant: string, run: number): Promise<Outcome<Uint8Array>>
  /** The printable record of a run as HTML. */
  record(plant: string, run: number): Promise<Outcome<string>>
  /** Curves and packs that wait for their thread. */
  queue(): QueueHealth
  /** Takes one sample of every run under way. */
  tick(now: number): void
  /** Traces keep every reading as it comes. */
  takeReading(reading: Reading): void
  arm(plant: string, run: number, armed: boolean): Outcome<null>
  decideTrace(plant: string, run: number, verdict: VerdictRequest & { number: number }): Outcome<null>
  /** Readings of one trace, to be drawn. */
  trace(plant: string, run: number, number: number): Promise<Outcome<TraceReply>>
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

export function createTrials(options: TrialsOptions): Trials {
  const { state, clock, plants, thread = createTrialThread() } = options
  const store = createRunStore(state)
  const active = new Map<number, ActiveRun>()
  const results = createRunResults(store, thread)
  const desk = createTraceDesk({ state, clock, runs: store, thread, plants })
  const stop = clock.every(SAMPLE_MS, () => tick(clock.now()))
  for (const id of store.open()) watch(id)

  function watch(id: number): void {
    const { summary, method } = store.run(id)!
    const { plant, by } = summary
    if (method.trace) desk.watch(id, plant, method.trace)
    else active.set(id, createActiveRun({ id, plant, by, method, store, live: () => plants().get(plant) }))
  }

  function tick(now: number): void {
    for (const run of active.values()) run.tick(now)
    desk.tick(now)
  }

  function underWay(plant: string): number | undefined {
    return [...active.values(), ...desk.active()].find((run) => run.plant === plant)?.id
  }

  async function gather(run: NonNullable<ReturnType<RunStore['run']>>): Promise<PackedRun> {
    return run.method.trace
      ? { ...tracedRun(store, run), traces: await desk.packed(run) }
      : gatherRun(store, run, results)
  }

  function find(plant: string, run: number): Outcome<NonNullable<ReturnType<RunStore['run']>>> {
    const found = store.run(run)
    return found && found.summary.plant === plant
      ? granted(found)
      : refuse(404, `This plant has no run ${run}.`)
  }

  /** What was typed to the present steady state. */
  function enterPresent(
    under: ActiveRun,
    method: RunMethod,
    request: ManualPointRequest,
  ): Outcome<{ number: number }> {
    const read = readTypedValues(request, method)
    if ('faults' in read) return refuse(400, 'The value cannot be used.', { faults: read.faults })
    const entered = under.enterPresent({ by: request.by, now: clock.now(), typed: read.typed })
    return 'refused' in entered ? refuse(409, `Not stored. ${entered.refused}`) : granted(entered)
  }

  /** Without `active` where it records traces. */
  function findOpen(
    plant: string,
    run: number,
  ): Outcome<{ active: ActiveRun | undefined; method: RunMethod }> {
    const found = find(plant, run)
    if (!found.ok) return found
    const under = active.get(run)
    return under || desk.isOpen(run)
      ? granted({ active: under, method: found.value.method })
      : refuse(409, 'This run is finished. Start another.')
  }

  return {
    list(live) {
      return {
        trials: [
          ...allTrials.map((trial) => viewTrial(trial, live.plan)),
          ...traceTrials.map((trial) => viewTraceTrial(trial, live)),
        ],
        runs: store.runs(live.plant.id, MOST_RUNS_SHOWN),
        active: underWay(live.plant.id) ?? null,
      }
    },
    runs: (plant, wish) => runsPage(store, plant, wish),
    async run(plant, run) {
      const found = find(plant, run)
      if (!found.ok) return found
      const { method, summary } = found.value
      if (method.trace) return granted(await desk.reply(found.value))
      const wish = { run, trial: summary.trial, method }
      const result = await results.curve(wish, 'actual')
      const hasUnit = method.view.unitAbscissa !== null
      const unitResult = hasUnit ? await results.curve(wish, 'unit') : null
      const findings = await results.findings(wish)
      const guidance = active.get(run)?.guidance(clock.now(), result) ?? null
      const points = store.points(run)
      return {
        ok: true,
        value: {
          run: store.run(run)!.summary,
          trial: method.view,
          points,
          result,
          unitResult,
          theory: theoryView(method, points, 'actual'),
          unitTheory: hasUnit ? theoryView(method, points, 'unit') : null,
          findings,
          guidance,
        },
      }
    },
    underWay(plant) {
      const under = [...active.values()].find((run) => run.plant === plant)
      return under && { run: under.id, trial: under.trial, points: store.points(under.id) }
    },
    start(live, request, by) {
      const chosen = methodFor(live, request)
      if (!chosen.ok) return chosen
      const method = chosen.value
      const plant = live.plant.id
      const other = underWay(plant)
      if (other !== undefined) return refuse(409, `Run ${other} is under way at this plant. Finish it first.`)
      const { name, className = '', group = '', year = '' } = request
      const texts = { name, className, group, year }
      const { text } = live.plant
      const id = store.start({
        ...{ plant, trial: method.view.id, at: clock.now(), by, method, ...texts },
        ...(text === undefined ? {} : { plantText: text }),
      })
      if (id === undefined) return NOT_STORED
      watch(id)
      return granted({ run: id })
    },
    enter(plant, run, request) {
      const found = findOpen(plant, run)
      if (!found.ok) return found
      const { active: under, method } = found.value
      if (request.isPresent && under) return enterPresent(under, method, request)
      const read = readManualPoint(request, method, clock.now())
      if ('faults' in read) return refuse(400, 'The point cannot be used.', { faults: read.faults })
      const number = store.points(run).length + 1
      if (number > MOST_POINTS) return refuse(409, `A run has at most ${MOST_POINTS} points. Start another.`)
      const isStored = store.addPoint(run, { ...read.point, number, verdict: 'kept', reason: '' }, null)
      return isStored ? granted({ number }) : NOT_STORED
    },
    decide(plant, run, { number, verdict, reason = '', by = 'not named' }) {
      const found = find(plant, run)
      if (!found.ok) return found
      if (!store.points(run).some((point) => point.number === number))
        return refuse(404, `Run ${run} has no point ${number}.`)
      if (verdict === 'rejected' && reason.trim() === '')
        return refuse(400, 'Say why the point is rejected: the reason stays with it.')
      return doneIf(store.decide(run, number, { at: clock.now(), by, verdict, reason: reason.trim() }))
    },
    repeat(plant, run) {
      const found = findOpen(plant, run)
      if (!found.ok) return found
      if (!found.value.active) return refuse(409, 'This trial records traces: arm it for one more.')
      found.value.active.repeat()
      return DONE
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
      desk.finish(run)
      return DONE
    },
    async pack(plant, run) {
      const found = find(plant, run)
      if (!found.ok) return found
      const zip = await thread.pack(await gather(found.value))
      if (!zip) return refuse(503, 'The pack could not be made. Try again in a moment.')
      return granted(zip)
    },
    async record(plant, run) {
      const found = find(plant, run)
      if (!found.ok) return found
      const html = await thread.record(await gather(found.value))
      if (!html) return refuse(503, 'The record could not be made. Try again in a moment.')
      return granted(html)
    },
    queue: thread.queue,
    tick,
    takeReading: desk.takeReading,
    arm(plant, run, armed) {
      const found = find(plant, run)
      return found.ok ? desk.arm(run, armed) : found
    },
    decideTrace(plant, run, verdict) {
      const found = find(plant, run)
      return found.ok ? desk.decide(run, verdict) : found
    },
    async trace(plant, run, number) {
      const found = find(plant, run)
      return found.ok ? desk.draw(run, number) : found
    },
    async close() {
      stop()
      await thread.close()
    },
  }
}
