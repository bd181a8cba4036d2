import type { LivePlant } from '../../server/livePlant.ts'
import { openState, type State } from '../../server/state/openState.ts'
import { createTrials, type Trials } from '../../server/trials/trials.ts'
import { scratchFolder } from './scratch.ts'

/** Trials of one plant on a state database of its own; sampled by the test, not by a timer. */
export interface TrialBench {
  trials: Trials
  state: State
  folder: string
  close(): Promise<void>
}

export function openTrialBench(live: LivePlant, now: () => number): TrialBench {
  const folder = scratchFolder()
  const state = openState(folder.path)
  const clock = { now, mono: now, every: () => () => {}, after: () => () => {} }
  const trials = createTrials({ state, clock, plants: () => new Map([[live.plant.id, live]]) })
  return {
    trials,
    state,
    folder: folder.path,
    async close() {
      await trials.close()
      state.close()
      folder.remove()
    },
  }
}
