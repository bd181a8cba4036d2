import type { PointRunReply, RunReply, TraceRunReply } from '../../../server/wire/trial.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import type { RunActions } from './runActions.ts'

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
