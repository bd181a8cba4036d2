import { type AlarmView, isUnacknowledged } from '../../wire/alarm.ts'
import type { ActedBy } from '../alarm.ts'
import type { AlarmBoard } from '../board.ts'

/**
 * One press for a whole event: each of its alarms that nobody has answered is acknowledged by itself, with a line of the journal of
 * its own, as the standard wants it.
 *
 * @param seenRaisedAt The last raise that was shown: what came later was not, and stays.
 * @returns all alarms of the episode as they are then; empty where there is no such episode.
 */
export function acknowledgeEpisode(
  board: Pick<AlarmBoard, 'views' | 'act'>,
  { episode, seenRaisedAt }: { episode: string; seenRaisedAt: number },
  actedBy: ActedBy,
): AlarmView[] {
  for (const { id, state, raisedAt } of board.views().filter((one) => one.episode === episode))
    if (isUnacknowledged(state) && (raisedAt ?? 0) <= seenRaisedAt)
      board.act(id, { event: 'acknowledge' }, actedBy)
  return board.views().filter((one) => one.episode === episode)
}
