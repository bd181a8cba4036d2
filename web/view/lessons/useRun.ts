import type { RunReply } from '../../../server/wire/trial.ts'
import type { Answer } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'

const RUN_MS = 2000

/** The guided run that is under way at a plant; null while there is none. */
export function useRun(plant: string, joins: number): RunReply | null {
  const asked = usePolled<RunReply | null>(
    async (): Promise<Answer<RunReply | null>> => {
      const list = await trialRequests.list(plant)
      if (!list.ok) return list
      const { underWay } = list.reply
      return underWay === null ? { ok: true, reply: null } : trialRequests.run(plant, underWay.id)
    },
    RUN_MS,
    [plant, joins],
  )
  return asked.reply.value
}
