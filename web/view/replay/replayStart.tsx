import { useSignal } from '@preact/signals'
import type { ReplayRequest } from '../../../server/wire/replay.ts'
import { may } from '../../connect/person.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import { address } from '../screens.ts'

export interface ReplayStartProps {
  plant: string
  /** Made when it is pressed: "the last hour" is that of the press. */
  wish: () => ReplayRequest
  name: string
}

/** Shows a recording again, to everybody who opens it. Not there for those who may not. */
export function ReplayStart({ plant, wish, name }: ReplayStartProps) {
  const error = useSignal('')
  if (!may('teach')) return null
  const start = async () => {
    const answer = await replayRequests.start(plant, wish())
    if (answer.ok) location.hash = address({ screen: 'replay', replay: answer.reply.replay })
    else error.value = answer.error
  }
  return (
    <>
      <button type="button" class="press" data-action="replay" onClick={() => void start()}>
        {name}
      </button>
      {error.value && (
        <span class="refused" role="alert">
          {error.value}
        </span>
      )}
    </>
  )
}
