import type { LivePlant } from '../../server/livePlant.ts'
import { openPeople, type State } from '../../server/state/openState.ts'
import { createTrials, type Trials } from '../../server/trials/trials.ts'
import type { Takes } from '../../server/wire/trial.ts'
import { scratchFolder } from './scratch.ts'
import { trialThread } from './trialThread.ts'

/** What takes points or traces, where the test knows which of the two. */
export function taking<T extends { takes: Takes }, K extends Takes>(
  takes: K,
  one: T,
): Extract<T, { takes: K }> {
  if (one.takes !== takes) throw new RangeError(`it takes ${one.takes}`)
  return one as Extract<T, { takes: K }>
}

/** Trials of one plant on a state database of its own; sampled by the test, not by a timer. */
export interface TrialBench {
  trials: Trials
  state: State
  folder: string
  close(): Promise<void>
}

export function openTrialBench(live: LivePlant, now: () => number): TrialBench {
  const folder = scratchFolder()
  const state = openPeople(folder.path)
  const clock = { now, mono: now, every: () => () => {}, after: () => () => {} }
  const plants = new Map([[live.plant.id, live]])
  const trials = createTrials({ state, clock, plants: () => plants, thread: trialThread })
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
