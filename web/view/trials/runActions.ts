import { signal } from '@preact/signals'
import type { ManualPointRequest } from '../../../server/wire/point.ts'
import type {
  NotesRequest,
  PointRunReply,
  RunReply,
  Takes,
  TraceRunReply,
  VerdictRequest,
} from '../../../server/wire/trial.ts'
import type { Answer } from '../../connect/http.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import type { PlantHold } from '../../hold/plantHold.ts'

export type RunActions = ReturnType<typeof createRunActions>

/** What a person does with a run; one thing at a time, and the run is read again after each. */
export function createRunActions(plant: string, run: number, again: () => void) {
  /** Why the last one was not done; "" when it was. */
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
    decide: (take: { takes: Takes; number: number }, verdict: VerdictRequest) =>
      act(() => trialRequests.decide(plant, run, { ...take, ...verdict })),
    repeat: () => act(() => trialRequests.repeat(plant, run)),
    finish: () => act(() => trialRequests.finish(plant, run)),
    edit: (notes: NotesRequest) => act(() => trialRequests.edit(plant, run, notes)),
    arm: (armed: boolean) => act(() => trialRequests.arm(plant, run, armed)),
    enter: (point: ManualPointRequest) => act(() => trialRequests.enter(plant, run, point)),
  }
}

/** What every part of a run's screen is given. */
export interface RunProps<Reply extends RunReply = RunReply> {
  reply: Reply
  hold: PlantHold
  actions: RunActions
}

export type PointRunProps = RunProps<PointRunReply>

type WithGuidance<Reply extends RunReply> = Reply & { guidance: NonNullable<Reply['guidance']> }
export type PointRunUnderWay = WithGuidance<PointRunReply>
export type TraceRunUnderWay = WithGuidance<TraceRunReply>
export type RunUnderWay = PointRunUnderWay | TraceRunUnderWay

/** Only a run under way is guided. */
export function isUnderWay(reply: RunReply): reply is RunUnderWay {
  return reply.guidance !== null
}
