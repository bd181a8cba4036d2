import { signal } from '@preact/signals'
import type { SessionReply } from '../../server/wire/access.ts'
import type { AgreementReply } from '../../server/wire/agreement.ts'
import type { AlarmView, JournalReply } from '../../server/wire/alarm.ts'
import type { EventRecord, EventSummary } from '../../server/wire/event.ts'
import type { ExplainReply } from '../../server/wire/explain.ts'
import type { NotificationsReply } from '../../server/wire/notifications.ts'
import type { PlantSummary, Snapshot } from '../../server/wire/plant.ts'
import type { Reference } from '../../server/wire/reference.ts'
import type {
  CounterView,
  ErrorReply,
  HealthReply,
  HistoryReply,
  IndexView,
} from '../../server/wire/replies.ts'
import { askForProof } from './proof.ts'

/** Longest wait [ms] for an answer. */
const ANSWER_MS = 8000

/** An answer, or a sentence for the person who waits. `reached` tells a refusal from a dead connection. */
export type Answer<T> =
  | { ok: true; reply: T }
  | { ok: false; reached: boolean; error: string; needs?: ErrorReply['needs'] }

export interface HistoryWish {
  figures: string[]
  from: number
  to: number
  points: number
}

/** Counts the moments after which the page should ask anew who is signed in. */
export const doubts = signal(0)

export const http = {
  session: () => request<SessionReply>('/api/session'),
  signOut: (everywhere: boolean) =>
    request<{ ok: true }>(`/api/session${everywhere ? '?everywhere=true' : ''}`, {}, 'DELETE'),
  plants: () => request<PlantSummary[]>('/api/plants'),
  live: (plant: string) => request<Snapshot>(plantPath(plant, 'live')),
  health: () => request<HealthReply>('/api/health'),
  reference: () => request<Reference>('/reference.json'),
  notifications: () => request<NotificationsReply>('/api/notifications'),
  subscribeBrowser: (recipient: string, subscription: PushSubscriptionJSON) =>
    request<{ ok: true }>('/api/notifications/browsers', { recipient, subscription: keysOnly(subscription) }),
  testNotifications: () => request<{ planned: number }>('/api/notifications/test', {}),
  counters: (plant: string) => request<CounterView[]>(plantPath(plant, 'counters')),
  agreement: (plant: string) => request<AgreementReply>(plantPath(plant, 'agreement')),
  indices: (plant: string) => request<IndexView[]>(plantPath(plant, 'indices')),
  journal: (plant: string, limit: number) =>
    request<JournalReply>(`${plantPath(plant, 'journal')}?limit=${limit}`),
  history: (plant: string, { figures, from, to, points }: HistoryWish) =>
    request<HistoryReply>(
      `${scenePath(plant, 'history')}?${new URLSearchParams({
        figures: figures.join(','),
        from: String(Math.round(from)),
        to: String(Math.round(to)),
        points: String(points),
      })}`,
    ),
  explain: (plant: string, figure: string) =>
    request<ExplainReply>(scenePath(plant, 'figures', figure, 'explain')),
  alarm: (plant: string, { alarm, action }: { alarm: string; action: string }, body: object) =>
    request<AlarmView>(plantPath(plant, 'alarms', alarm, action), body),
  episode: (plant: string, episode: string, raisedAt: number) =>
    request<AlarmView[]>(plantPath(plant, 'episodes', episode, 'acknowledge'), { raisedAt }),
  events: (plant: string) => request<EventSummary[]>(`${plantPath(plant, 'events')}?limit=20`),
  event: (plant: string, event: string) => request<EventRecord>(plantPath(plant, 'events', event)),
  /** Address of its samples. */
  eventCsv: (plant: string, event: string) => `${plantPath(plant, 'events', event)}/csv`,
  simulator: (plant: string, control: string, value: number | string | boolean) =>
    request<{ ok: true }>(plantPath(plant, 'simulator', control), { value }),
}

/** Browsers add an expiry that the server does not ask for. */
function keysOnly(subscription: PushSubscriptionJSON): object {
  const { endpoint, keys } = subscription
  return { endpoint, keys }
}

export function plantPath(...parts: string[]): string {
  return `/api/plants/${parts.map(encodeURIComponent).join('/')}`
}

const REPLAY = /^replay:(\d+)$/

/** What is known of a plant, or of the recording that a scene shows, by the scene's id. */
function scenePath(scene: string, ...parts: string[]): string {
  const replay = REPLAY.exec(scene)?.[1]
  return replay
    ? `/api/replays/${[replay, ...parts.map(encodeURIComponent)].join('/')}`
    : plantPath(scene, ...parts)
}

/**
 * GET, or POST when there is a body, or another method. Never throws: a dead network is a value. Where the server
 * wants the password once more, it is asked for, and the request is sent again.
 */
export async function request<T>(path: string, body?: object, method = 'POST'): Promise<Answer<T>> {
  const answer = await send<T>(path, body, method)
  const isUnproven = !answer.ok && answer.needs === 'proof'
  return isUnproven && (await askForProof()) ? send<T>(path, body, method) : answer
}

async function send<T>(path: string, body: object | undefined, method: string): Promise<Answer<T>> {
  const init: RequestInit = {
    signal: AbortSignal.timeout(ANSWER_MS),
    headers: { accept: 'application/json' },
  }
  if (body)
    Object.assign(init, {
      method,
      body: JSON.stringify(body),
      headers: { accept: 'application/json', 'content-type': 'application/json' },
    })
  try {
    const response = await fetch(path, init)
    if (response.ok) return { ok: true, reply: (await response.json()) as T }
    if (response.status === 401 || response.status === 403) doubts.value++
    return { ok: false, reached: true, ...(await refusalIn(response)) }
  } catch {
    return { ok: false, reached: false, error: 'The server did not answer.' }
  }
}

async function refusalIn(response: Response): Promise<Pick<ErrorReply, 'error' | 'needs'>> {
  const reply = (await response.json().catch(() => null)) as ErrorReply | null
  if (!reply?.error) return { error: `The server answered ${response.status} without a reason.` }
  const expected = (reply.faults ?? []).map((fault) => `${fault.path}: expected ${fault.expected}.`)
  const error = [reply.error, ...expected].join(' ')
  return reply.needs === undefined ? { error } : { error, needs: reply.needs }
}
