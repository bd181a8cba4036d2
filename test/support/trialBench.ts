import type { LivePlant } from '../../server/livePlant.ts'
import { openState, type State } from '../../server/state/openState.ts'
import { createTrials, type Trials } from '../../server/trials/trials.ts'
import type { TrialThread } from '../../server/trials/trialThread.ts'
import { scratchFolder } from './scratch.ts'

/** Trials of one plant on a state database of its own; sampled by the test, not by a timer. */
export interface TrialBench {
  trials: Trials
  state: State
  folder: string
  close(): Promise<void>
}

/** @param thread Shared by many benches; each would otherwise start one. */
export function openTrialBench(live: LivePlant, now: () => number, thread?: TrialThread): TrialBench {
  const folder = scratchFolder()
  const state = openState(folder.path)
  const clock = { now, mono: now, every: () => () => {}, after: () => () => {} }
  const plants = new Map([[live.plant.id, live]])
  const trials = createTrials({ state, clock, plants: () => plants, ...(thread ? { thread } : {}) })
  return {
    trials,
    state,
    folder: folder.path,
    async close() {
      if (!thread) await trials.close()
      state.close()
      folder.remove()
    },
  }
}
