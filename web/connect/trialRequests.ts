import type { ManualPointRequest } from '../../server/wire/point.ts'
import type { TraceReply } from '../../server/wire/trace.ts'
import type {
  NotesReply,
  NotesRequest,
  RunReply,
  RunRequest,
  RunsReply,
  Takes,
  TrialsReply,
  VerdictRequest,
} from '../../server/wire/trial.ts'
import { plantPath, request } from './http.ts'

const runPath = (plant: string, run: number, ...rest: string[]) =>
  plantPath(plant, 'runs', String(run), ...rest)

/** Names as in the address; absent stands for any. */
export type RunsFilter = { trial?: string; class?: string; group?: string; year?: string }

const RECORD_MS = 30_000

export const trialRequests = {
  list: (plant: string) => request<TrialsReply>(plantPath(plant, 'trials')),
  runs: (plant: string, { before, ...filter }: RunsFilter & { before?: number | undefined }) =>
    request<RunsReply>(
      `${plantPath(plant, 'runs')}?${new URLSearchParams({ ...filter, ...(before === undefined ? {} : { before: String(before) }) })}`,
    ),
  run: (plant: string, run: number) => request<RunReply>(runPath(plant, run)),
  start: (plant: string, wish: RunRequest) => request<{ run: number }>(plantPath(plant, 'runs'), wish),
  enter: (plant: string, run: number, point: ManualPointRequest) =>
    request<{ number: number }>(runPath(plant, run, 'points'), point),
  decide: (
    plant: string,
    run: number,
    { takes, number, ...verdict }: VerdictRequest & { takes: Takes; number: number },
  ) => request<{ ok: true }>(runPath(plant, run, takes, String(number)), verdict),
  repeat: (plant: string, run: number) => request<{ ok: true }>(runPath(plant, run, 'repeat'), {}),
  edit: (plant: string, run: number, notes: NotesRequest) =>
    request<{ ok: true }>(runPath(plant, run, 'notes'), notes),
  notes: (plant: string, run: number) => request<NotesReply>(runPath(plant, run, 'notes')),
  finish: (plant: string, run: number) => request<{ ok: true }>(runPath(plant, run, 'finish'), {}),
  /** The printable record as HTML; null when it cannot be had. */
  record: async (plant: string, run: number): Promise<string | null> => {
    try {
      const response = await fetch(runPath(plant, run, 'record'), { signal: AbortSignal.timeout(RECORD_MS) })
      return response.ok ? await response.text() : null
    } catch {
      return null
    }
  },
  recordAddress: (plant: string, run: number) => runPath(plant, run, 'record'),
  arm: (plant: string, run: number, armed: boolean) =>
    request<{ ok: true }>(runPath(plant, run, 'arm'), { armed }),
  trace: (plant: string, run: number, trace: number) =>
    request<TraceReply>(runPath(plant, run, 'traces', String(trace))),
  packAddress: (plant: string, run: number) => runPath(plant, run, 'pack'),
}
