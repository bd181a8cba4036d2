import type { Clock } from '../../clock.ts'
import type { PointResults, TraceResults } from '../../wire/trial.ts'
import { trials } from '../definitions/index.ts'
import type { FoundRun } from '../pack/packedRun.ts'
import type { PointMethod, TraceMethod } from '../runMethod.ts'
import type { KnownRun, RunStore } from '../runStore.ts'
import type { TrialThread } from '../trialThread.ts'
import { pointResults } from './pointResults.ts'
import { reduceRequestOf, reducibleOf, traceResults } from './traceResults.ts'

/** Results that are kept; older ones are made anew when they are asked for. */
const MOST_RESULTS = 200
/** A trace that is being recorded has changed after so long [ms]. */
const LIVE_MS = 5000

export interface ResultShelfOptions {
  store: RunStore
  thread: TrialThread
  clock: Clock
}

/** Tells what the points and traces of a run say; made anew only when they changed. */
export function createResultShelf({ store, thread, clock }: ResultShelfOptions) {
  const held = new Map<number, { key: string; made: Promise<unknown> }>()

  /** What was made of a run when it had this key. */
  function keep<T>(run: number, key: string, make: () => Promise<T>): Promise<T> {
    const known = held.get(run)
    if (known?.key === key) return known.made as Promise<T>
    const made = make()
    if (!known && held.size >= MOST_RESULTS) held.delete([...held.keys()][0]!)
    held.set(run, { key, made })
    return made
  }

  async function ofPoints(run: number, method: PointMethod): Promise<PointResults> {
    const trial = trials.find(({ id }) => id === method.view.id)
    const points = store.points(run)
    const checks = trial?.takes === 'points' ? trial.checks : []
    const made = await keep(run, keyOf(points), () => pointResults({ run, method, points, checks }, thread))
    // who decided, when and why may have changed without changing what the points say
    return { ...made, points }
  }

  async function ofTraces(run: number, method: TraceMethod): Promise<TraceResults> {
    const trial = trials.find(({ id }) => id === method.view.id)
    const points = store.points(run)
    const traces = store.traces(run)
    const taken = { method, points, traces, raw: (number: number) => store.raw(run, number) }
    const reducible = reducibleOf(taken)
    const look = reducible.some((one) => one.endedAt === null) ? Math.floor(clock.now() / LIVE_MS) : ''
    const key = [look, keyOf(reducible), keyOf(points)].join(' ')
    const reduced = await keep(run, key, () => thread.reduce(reduceRequestOf(taken)))
    return traceResults(taken, reduced, trial?.takes === 'traces' ? trial.checks : [])
  }

  return async ({ summary, method }: KnownRun): Promise<FoundRun> =>
    method.takes === 'points'
      ? { ...(await ofPoints(summary.id, method)), summary, method }
      : { ...(await ofTraces(summary.id, method)), summary, method }
}

function keyOf(taken: readonly { number: number; verdict: string; endedAt?: number | null }[]): string {
  return taken.map(({ number, verdict, endedAt = '' }) => `${number}${verdict}${endedAt}`).join()
}
