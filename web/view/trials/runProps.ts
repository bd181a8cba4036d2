import type { RunReply } from '../../../server/wire/trial.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import type { RunActions } from './runActions.ts'

/** What every part of a run's screen is given. */
export interface RunProps {
  reply: RunReply
  hold: PlantHold
  actions: RunActions
}
