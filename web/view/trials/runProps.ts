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
export type TraceRunProps = RunProps<TraceRunReply>
