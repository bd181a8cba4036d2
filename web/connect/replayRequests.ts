import type { ReplayControl, ReplayRequest, ReplaySummary, ReplaysReply } from '../../server/wire/replay.ts'
import { plantPath, request } from './http.ts'

const replayPath = (replay: number) => `/api/replays/${replay}`

export const replayRequests = {
  list: (plant: string) => request<ReplaysReply>(plantPath(plant, 'replays')),
  start: (plant: string, wish: ReplayRequest) =>
    request<{ replay: number }>(plantPath(plant, 'replays'), wish),
  find: (replay: number) => request<ReplaySummary>(replayPath(replay)),
  steer: (replay: number, wish: ReplayControl) => request<ReplaySummary>(replayPath(replay), wish),
  end: (replay: number) => request<{ ok: true }>(replayPath(replay), {}, 'DELETE'),
}
