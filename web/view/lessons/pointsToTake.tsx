import { useSignal } from '@preact/signals'
import type { SeatReply } from '../../../server/wire/lesson.ts'
import { seatRequests } from '../../connect/lessonRequests.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { Refused } from '../parts/refusal.tsx'

/** Points that the guided run at the plant has captured; each can be taken once. */
export function PointsToTake({ reply, again }: { reply: SeatReply; again: () => void }) {
  const error = useSignal('')
  if (reply.points.length === 0) return null
  const take = async (run: number, number: number) => {
    const key = `point-${run}-${number}`
    const answer = await seatRequests.record({ key, ageMs: 0, point: { run, number } })
    error.value = answer.ok ? '' : answer.error
    again()
  }
  return (
    <Panel id="points" title="Points of the guided run">
      <ul class="lines">
        {reply.points.map(({ run, number, setting, isTaken }) => (
          <li key={number} class="row apart">
            <span>
              Point {number} · {setting}
            </span>
            {isTaken ? (
              <span class="quiet">✓ taken</span>
            ) : (
              <Button onClick={() => take(run, number)} data-take={number}>
                Take for our group
              </Button>
            )}
          </li>
        ))}
      </ul>
      <Refused reason={error.value} />
    </Panel>
  )
}
