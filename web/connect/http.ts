import type { AlarmView } from '../../server/wire/alarm.ts'
import type { BalanceReply } from '../../server/wire/balance.ts'
import type { ExplainReply } from '../../server/wire/explain.ts'
import type { PlantSummary, Snapshot } from '../../server/wire/plant.ts'
import type {
  CounterView,
  ErrorReply,
  HealthReply,
  HistoryReply,
  JournalReply,
} from '../../server/wire/replies.ts'

/** Longest wait [ms] for an answer. */
const ANSWER_MS = 8000

/** An answer, or a sentence for the person who waits. `reached` tells a refusal from a dead connection. */
export type Answer<T> = { ok: true; reply: T } | { ok: false; reached: boolean; error: string }

export interface HistoryWish {
  figures: string[]
  from: number
  to: number
  points: number
}

export const http = {
  plants: () => request<PlantSummary[]>('/api/plants'),
  live: (plant: string) => request<Snapshot>(plantPath(plant, 'live')),
  health: () => request<HealthReply>('/api/health'),
  counters: (plant: string) => request<CounterView[]>(plantPath(plant, 'counters')),
  balance: (plant: string) => request<BalanceReply>(plantPath(plant, 'balance')),
  journal: (plant: string, limit: number) =>
    request<JournalReply>(`${plantPath(plant, 'journal')}?limit=${limit}`),
  history: (plant: string, { figures, from, to, points }: HistoryWish) =>
    request<HistoryReply>(
      `${plantPath(plant, 'history')}?${new URLSearchParams({
        figures: figures.join(','),
        from: String(Math.round(from)),
        to: String(Math.round(to)),
        points: String(points),
      })}`,
    ),
  explain: (plant: string, figure: string) =>
    request<ExplainReply>(plantPath(plant, 'figures', figure, 'explain')),
  acknowledge: (plant: string, alarm: string) =>
    request<AlarmView>(plantPath(plant, 'alarms', alarm, 'acknowledge'), {}),
  reset: (plant: string, alarm: string) => request<AlarmView>(plantPath(plant, 'alarms', alarm, 'reset'), {}),
  simulator: (plant: string, control: string, value: number | string | boolean) =>
    request<{ ok: true }>(plantPath(plant, 'simulator', control), { value }),
}

export function plantPath(...parts: string[]): string {
  return `/api/plants/${parts.map(encodeURIComponent).join('/')}`
}

/** GET, or POST when there is a body. Never throws: a dead network is a value. */
export async function request<T>(path: string, body?: object): Promise<Answer<T>> {
  const init: RequestInit = {
    signal: AbortSignal.timeout(ANSWER_MS),
    headers: { accept: 'application/json' },
  }
  if (body)
    Object.assign(init, {
      method: 'POST',
      body: JSON.stringify(body),
      headers: { accept: 'application/json', 'content-type': 'application/json' },
    })
  try {
    const response = await fetch(path, init)
    if (response.ok) return { ok: true, reply: (await response.json()) as T }
    return { ok: false, reached: true, error: await errorOf(response) }
  } catch {
    return { ok: false, reached: false, error: 'The server did not answer.' }
  }
}

async function errorOf(response: Response): Promise<string> {
  const reply = (await response.json().catch(() => null)) as ErrorReply | null
  if (!reply?.error) return `The server answered ${response.status} without a reason.`
  const expected = (reply.faults ?? []).map((fault) => `${fault.path}: expected ${fault.expected}.`)
  return [reply.error, ...expected].join(' ')
}
