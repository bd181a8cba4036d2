import { type ReadonlySignal, signal } from '@preact/signals'
import type { ManualPointRequest } from '../../../server/wire/point.ts'
import type { NotesRequest, Takes, VerdictRequest } from '../../../server/wire/trial.ts'
import type { Answer } from '../../connect/http.ts'
import { trialRequests } from '../../connect/trialRequests.ts'

/** What a person does with a run; one thing at a time, and the run is read again after each. */
export interface RunActions {
  /** Why the last one was not done; "" when it was. */
  error: ReadonlySignal<string>
  isBusy: ReadonlySignal<boolean>
  decide(take: { takes: Takes; number: number }, verdict: VerdictRequest): Promise<boolean>
  repeat(): Promise<boolean>
  finish(): Promise<boolean>
  edit(notes: NotesRequest): Promise<boolean>
  enter(point: ManualPointRequest): Promise<boolean>
  arm(armed: boolean): Promise<boolean>
}

export function createRunActions(plant: string, run: number, again: () => void): RunActions {
  const error = signal('')
  const isBusy = signal(false)

  async function act(send: () => Promise<Answer<unknown>>): Promise<boolean> {
    if (isBusy.value) return false
    isBusy.value = true
    const answer = await send()
    isBusy.value = false
    error.value = answer.ok ? '' : answer.error
    again()
    return answer.ok
  }

  return {
    error,
    isBusy,
    decide: (take, verdict) => act(() => trialRequests.decide(plant, run, { ...take, ...verdict })),
    repeat: () => act(() => trialRequests.repeat(plant, run)),
    finish: () => act(() => trialRequests.finish(plant, run)),
    edit: (notes) => act(() => trialRequests.edit(plant, run, notes)),
    arm: (armed) => act(() => trialRequests.arm(plant, run, armed)),
    enter: (point) => act(() => trialRequests.enter(plant, run, point)),
  }
}
