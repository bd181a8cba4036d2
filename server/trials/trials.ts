import type { Clock } from '../clock.ts'
import type { Reading } from '../ingest/reading.ts'
import type { FigurePlant } from '../mirror/shownPlant.ts'
import { DONE, doneIf, granted, NOT_STORED, type Outcome, onceGranted, refuse } from '../outcome.ts'
import type { State } from '../state/openState.ts'
import type { TrialPoint } from '../wire/point.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { TraceReply } from '../wire/trace.ts'
import type {
  NotesReply,
  NotesRequest,
  PointTrialView,
  RunReply,
  RunRequest,
  RunSummary,
  RunsReply,
  Takes,
  TrialsReply,
  VerdictRequest,
} from '../wire/trial.ts'
import type { PointRun } from './capture/pointRun.ts'
import { everySample } from './capture/sampleTimes.ts'
import { trials as allTrials } from './definitions/index.ts'
import { createEntries } from './entries.ts'
import type { EntryWish } from './manualPoint.ts'
import { gatherRun, type PackedRun } from './pack/packedRun.ts'
import { createPackShelf } from './pack/packShelf.ts'
import { createResultShelf } from './results/resultShelf.ts'
import { methodFor } from './runMethod.ts'
import { createRunStore, type KnownRun, type RunsWish } from './runStore.ts'
import { createRunsUnderWay } from './runsUnderWay.ts'
import type { TraceRun } from './trace/traceRun.ts'
import { createTrialThread, type TrialThread } from './trialThread.ts'
import { viewTrial } from './trialView.ts'

/** Guided tests of all plants, and the runs that were saved. */
export interface Trials {
  list(live: FigurePlant): TrialsReply
  /** Saved runs, newest first, a page at a time. */
  runs(plant: string, wish: RunsWish): RunsReply
  run(plant: string, run: number): Promise<Outcome<RunReply>>
  /** The run of points under way at a plant, as far as it has come. */
  underWay(plant: string): { run: number; trial: PointTrialView; points: TrialPoint[] } | undefined
  start(live: FigurePlant, request: RunRequest, by: string): Outcome<{ run: number }>
  /** A point that somebody typed. */
  enter(plant: string, run: number, wish: EntryWish): Outcome<{ number: number }>
  /** Keeps or rejects a point or trace; the decision joins the history of those before it. */
  decide(plant: string, run: number, wish: DecisionWish): Outcome<null>
  repeat(plant: string, run: number): Outcome<null>
  edit(plant: string, run: number, wish: NotesRequest & By): Outcome<null>
  /** Names and notes as they were saved, newest first. */
  notes(plant: string, run: number): Outcome<NotesReply>
  finish(plant: string, run: number): Outcome<null>
  /** A zip file with everything that belongs to a run. */
  pack(plant: string, run: number): Promise<Outcome<Uint8Array>>
  /** The printable record of a run as HTML. */
  record(plant: string, run: number): Promise<Outcome<string>>
  /** Curves and packs that wait for their thread. */
  queues(): QueueHealth[]
  /** Takes one sample of every run under way. */
  tick(now: number): void
  /** Traces keep every reading as it comes. */
  takeReading(reading: Reading): void
  /** So many readings were given up before they came here: what is being taken has a gap. */
  readingsLost(count: number): void
  arm(plant: string, run: number, armed: boolean): Outcome<null>
  /** Readings of one trace, to be drawn. */
  trace(plant: string, run: number, number: number): Promise<Outcome<TraceReply>>
  close(): Promise<void>
}

/** Who wants to change something, as signed in. */
export interface By {
  by: string
  /** Besides own finished runs those of others too. */
  mayAmend?: boolean
}

export interface DecisionWish extends VerdictRequest, By {
  takes: Takes
  number: number
}

export interface TrialsOptions {
  state: State
  clock: Clock
  plants: () => ReadonlyMap<string, FigurePlant>
  /** Where curves are laid; default one of its own. */
  thread?: TrialThread
}

const WORDS: Record<Takes, string> = { points: 'point', traces: 'trace' }

/** Names and notes of a run as saved; every one is kept. */
const MOST_VERSIONS = 200
const TOO_MANY_VERSIONS = refuse(
  409,
  `Names and notes of this run were saved ${MOST_VERSIONS} times, and all are kept. Start another run.`,
)

export function createTrials(options: TrialsOptions): Trials {
  const { state, clock, plants, thread = createTrialThread() } = options
  const store = createRunStore(state)
  const active = createRunsUnderWay(store, clock, plants)
  const shelf = createPackShelf()
  const { enterWhole, enterPresent } = createEntries(store, clock.now)
  const resultsOf = createResultShelf({ store, thread, clock })
  const stop = everySample(clock, () => active.tick(clock.now()))

  function underWay(plant: string): RunSummary | undefined {
    const under = active.at(plant)
    return under && store.run(under.id)?.summary
  }

  function find(plant: string, run: number): Outcome<KnownRun> {
    const found = store.run(run)
    return found && found.summary.plant === plant
      ? granted(found)
      : refuse(404, `This plant has no run ${run}.`)
  }

  function findOpen(plant: string, run: number): Outcome<KnownRun & { under: PointRun | TraceRun }> {
    return onceGranted(find(plant, run), (known) => {
      const under = active.get(run)
      return under ? granted({ ...known, under }) : refuse(409, 'This run is finished. Start another.')
    })
  }

  /** A run that this person may change: any under way, of the finished ones their own. */
  function findToChange(plant: string, run: number, { by, mayAmend = false }: By): Outcome<KnownRun> {
    const found = find(plant, run)
    if (!found.ok || active.get(run) || mayAmend || found.value.summary.by === by) return found
    return refuse(403, `This run is finished: ${found.value.summary.by} or an operator can still change it.`)
  }

  async function replyOf(known: KnownRun): Promise<RunReply> {
    const found = await resultsOf(known)
    const { id } = known.summary
    const under = active.get(id)
    if (under?.takes === 'points') under.seen()
    // Read anew: a point may have come while the curve was laid.
    const run = store.run(id)?.summary ?? known.summary
    if (found.takes === 'points') {
      const { method, summary: _, ...says } = found
      const guidance = under?.takes === 'points' ? under.guidance(clock.now(), says.result) : null
      return { ...says, run, trial: method.view, guidance }
    }
    const { method, summary: _, ...says } = found
    const guidance = under?.takes === 'traces' ? under.guidance(clock.now()) : null
    return { ...says, run, trial: method.view, guidance }
  }

  /** Pack or record, made of everything that belongs to the run; of a finished run only when that has changed. */
  async function made<Made extends string | Uint8Array>(
    found: Outcome<KnownRun>,
    what: string,
    make: (run: PackedRun) => Promise<Made | undefined>,
  ): Promise<Outcome<Made>> {
    if (!found.ok) return found
    const { summary } = found.value
    const makeNow = async () => make(gatherRun(store, await resultsOf(found.value)))
    const key = () =>
      JSON.stringify([summary, store.decisions(summary.id), store.versions(summary.id).length])
    const one = await (summary.finishedAt === null
      ? makeNow()
      : shelf(`${what} ${summary.id}`, key(), makeNow))
    return one ? granted(one) : refuse(503, `The ${what} could not be made. Try again in a moment.`)
  }

  return {
    list: ({ plan, plant }) => ({
      trials: allTrials.map((trial) => viewTrial(trial, plan)),
      underWay: underWay(plant.id) ?? null,
    }),
    runs: store.runs,
    run: async (plant, run) => onceGranted(find(plant, run), async (known) => granted(await replyOf(known))),
    underWay(plant) {
      const under = active.at(plant)
      if (under?.takes === 'points') under.seen()
      return under?.takes === 'points'
        ? { run: under.id, trial: under.trial, points: store.points(under.id) }
        : undefined
    },
    start(live, request, by) {
      const chosen = methodFor(live.plan, request)
      if (!chosen.ok) return chosen
      const method = chosen.value
      const { id: plant, text } = live.plant
      const other = underWay(plant)
      if (other) return refuse(409, `Run ${other.id} is under way at this plant. Finish it first.`)
      const { name, className = '', group = '', year = '' } = request
      const run = { plant, at: clock.now(), by, method, name, className, group, year, plantText: text }
      const id = store.start(run)
      if (id === undefined) return NOT_STORED
      active.begin(id)
      return granted({ run: id })
    },
    enter: (plant, run, request) =>
      onceGranted(findOpen(plant, run), ({ under, ...known }) =>
        request.isPresent && under.takes === 'points' && known.method.takes === 'points'
          ? enterPresent(under, known.method, request)
          : enterWhole(known, request),
      ),
    decide(plant, run, { takes, number, verdict, reason = '', ...who }) {
      const found = findToChange(plant, run, who)
      if (!found.ok) return found
      const word = WORDS[takes]
      if (!store[takes](run).some((one) => one.number === number))
        return refuse(404, `Run ${run} has no ${word} ${number}.`)
      const why = reason.trim()
      if (verdict === 'rejected' && why === '')
        return refuse(400, `Say why the ${word} is rejected: the reason stays with it.`)
      return doneIf(store.decide(run, { takes, number, at: clock.now(), by: who.by, verdict, reason: why }))
    },
    repeat: (plant, run) =>
      onceGranted(findOpen(plant, run), ({ under }) => {
        if (under.takes === 'traces') return refuse(409, 'This trial records traces: arm it for one more.')
        under.repeat()
        return DONE
      }),
    edit: (plant, run, { by, mayAmend = false, ...notes }) =>
      onceGranted(findToChange(plant, run, { by, mayAmend }), () =>
        store.versions(run).length >= MOST_VERSIONS
          ? TOO_MANY_VERSIONS
          : doneIf(store.edit(run, { ...notes, by, at: clock.now() })),
      ),
    notes: (plant, run) =>
      onceGranted(find(plant, run), () => granted({ versions: store.versions(run).reverse() })),
    finish: (plant, run) =>
      onceGranted(findOpen(plant, run), ({ under }) => {
        if (!store.finish(run, clock.now())) return NOT_STORED
        if (under.takes === 'traces') under.close(clock.now())
        active.end(run)
        return DONE
      }),
    pack: (plant, run) => made(find(plant, run), 'pack', thread.pack),
    record: (plant, run) => made(find(plant, run), 'record', thread.record),
    queues: thread.queues,
    tick: active.tick,
    takeReading: active.takeReading,
    readingsLost: active.readingsLost,
    arm: (plant, run, armed) =>
      onceGranted(findOpen(plant, run), ({ under }) => {
        under.arm(armed, clock.now())
        return DONE
      }),
    async trace(plant, run, number) {
      const found = find(plant, run)
      if (!found.ok) return found
      const says = await resultsOf(found.value)
      const trace = says.takes === 'traces' ? says.traces.find((one) => one.number === number) : undefined
      if (!trace) return refuse(404, `Run ${run} has no trace ${number}.`)
      const zeroAt = trace.result?.isReduced ? trace.result.zeroAt : trace.triggeredAt
      const drawn = await thread.draw({ number, zeroAt, raw: store.raw(run, number) })
      if (!drawn) return refuse(503, 'The trace could not be read. Try again in a moment.')
      return granted(drawn)
    },
    async close() {
      stop()
      await thread.close()
    },
  }
}
