import type { RunsReply } from '../wire/trial.ts'
import type { RunStore, RunsWish } from './runStore.ts'

const RUNS_A_PAGE = 50

/** Saved runs of a plant, newest first, a page at a time. */
export function runsPage(store: RunStore, plant: string, wish: RunsWish): RunsReply {
  const found = store.runs(plant, RUNS_A_PAGE + 1, wish)
  const runs = found.slice(0, RUNS_A_PAGE)
  return {
    runs,
    total: store.count(plant, wish),
    before: found.length > RUNS_A_PAGE ? runs.at(-1)!.id : null,
    choices: store.choices(plant),
  }
}
