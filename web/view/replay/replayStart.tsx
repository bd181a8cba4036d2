import { useSignal } from '@preact/signals'
import type { ReplayRequest } from '../../../server/wire/replay.ts'
import { may } from '../../connect/person.ts'
import { replayRequests } from '../../connect/replayRequests.ts'
import { Button } from '../parts/button.tsx'
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
      <Button action="replay" onClick={start}>
        {name}
      </Button>
      {error.value && (
        <span class="refused" role="alert">
          {error.value}
        </span>
      )}
    </>
  )
}
