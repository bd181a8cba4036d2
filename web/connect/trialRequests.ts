import type {
  ManualPointRequest,
  NotesRequest,
  RunReply,
  RunRequest,
  TrialsReply,
  VerdictRequest,
} from '../../server/wire/trial.ts'
import { plantPath, request } from './http.ts'

const runPath = (plant: string, run: number, ...rest: string[]) =>
  plantPath(plant, 'runs', String(run), ...rest)

export const trialRequests = {
  list: (plant: string) => request<TrialsReply>(plantPath(plant, 'trials')),
  run: (plant: string, run: number) => request<RunReply>(runPath(plant, run)),
  start: (plant: string, wish: RunRequest) => request<{ run: number }>(plantPath(plant, 'runs'), wish),
  enter: (plant: string, run: number, point: ManualPointRequest) =>
    request<{ number: number }>(runPath(plant, run, 'points'), point),
  decide: (plant: string, run: number, { point, ...verdict }: VerdictRequest & { point: number }) =>
    request<{ ok: true }>(runPath(plant, run, 'points', String(point)), verdict),
  repeat: (plant: string, run: number) => request<{ ok: true }>(runPath(plant, run, 'repeat'), {}),
  edit: (plant: string, run: number, notes: NotesRequest) =>
    request<{ ok: true }>(runPath(plant, run, 'notes'), notes),
  finish: (plant: string, run: number) => request<{ ok: true }>(runPath(plant, run, 'finish'), {}),
  packAddress: (plant: string, run: number) => runPath(plant, run, 'pack'),
}
