import type { Clock } from '../clock.ts'
import type { Reading } from '../ingest/reading.ts'
import type { FigurePlant } from '../mirror/shownPlant.ts'
import { createPointRun, type PointRun } from './capture/pointRun.ts'
import type { RunStore } from './runStore.ts'
import { createTraceRun, type TraceRun } from './trace/traceRun.ts'

/** Runs that watch their plant, by number. */
export interface RunsUnderWay {
  begin(run: number): void
  get(run: number): PointRun | TraceRun | undefined
  at(plant: string): PointRun | TraceRun | undefined
  end(run: number): void
  /** Takes one sample of each. */
  tick(now: number): void
  /** Traces keep every reading as it comes. */
  takeReading(reading: Reading): void
  /** So many readings were given up before they came here: what is being taken has a gap. */
  readingsLost(count: number): void
}

/** Those that a server before this one left under way are there, but those of points rest until somebody goes on. */
export function createRunsUnderWay(
  store: RunStore,
  clock: Clock,
  plants: () => ReadonlyMap<string, FigurePlant>,
): RunsUnderWay {
  const active = new Map<number, PointRun | TraceRun>()

  function begin(id: number, isLeftOpen = false): void {
    const { summary, method } = store.run(id)!
    const { plant, by } = summary
    const common = { id, plant, store, live: () => plants().get(plant) }
    active.set(
      id,
      method.takes === 'points'
        ? createPointRun({ ...common, by, method, isLeftOpen })
        : createTraceRun({ ...common, method, startedAt: clock.now() }),
    )
  }

  for (const id of store.open()) begin(id, true)
  return {
    begin: (id) => begin(id),
    get: (run) => active.get(run),
    at: (plant) => [...active.values()].find((run) => run.plant === plant),
    end: (run) => void active.delete(run),
    tick(now) {
      for (const run of active.values()) run.tick(now)
    },
    takeReading(reading) {
      for (const run of active.values())
        if (run.takes === 'traces' && run.plant === reading.plant) run.takeReading(reading)
    },
    readingsLost(count) {
      for (const run of active.values()) run.readingsLost(count)
    },
  }
}
