import type { AuditReply, Role, SessionView, UserCodeReply, UserView } from '../../server/wire/access.ts'
import { type Answer, request } from './http.ts'
import { refreshPerson } from './person.ts'

type SignedIn = { name: string; role: Role }

export interface CodeWish {
  name: string
  code: string
  password: string
}

/** Getting in and out, and what administrators do. Fetched only with the screens that need it. */
export const accessRequests = {
  signIn: (name: string, password: string) =>
    thenRefresh(request<SignedIn>('/api/session', { name, password })),
  setUp: (wish: CodeWish) => thenRefresh(request<SignedIn>('/api/setup', wish)),
  useCode: (wish: CodeWish) => thenRefresh(request<SignedIn>('/api/password', wish)),
  changePassword: (current: string, password: string) =>
    thenRefresh(request<SignedIn>('/api/session/password', { current, password })),
  prove: (password: string) => request<{ ok: true }>('/api/session/proof', { password }),
  sessions: () => request<SessionView[]>('/api/sessions'),
  endSession: (id: string) => request<{ ok: true }>(`/api/sessions/${encodeURIComponent(id)}`, {}, 'DELETE'),
  endOtherSessions: () => request<{ ok: true }>('/api/sessions', {}, 'DELETE'),
  users: () => request<UserView[]>('/api/users'),
  addUser: (name: string, role: Role) => request<UserCodeReply>('/api/users', { name, role }),
  changeRole: (id: number, role: Role) => request<UserView>(`/api/users/${id}`, { role }, 'PATCH'),
  resetPassword: (id: number) => request<UserCodeReply>(`/api/users/${id}/code`, {}),
  removeUser: (id: number) => request<{ ok: true }>(`/api/users/${id}`, {}, 'DELETE'),
  audit: (before?: number) =>
    request<AuditReply>(`/api/audit?limit=50${before === undefined ? '' : `&before=${before}`}`),
}

/** So that the page shows the new rights before whoever waits goes on. */
async function thenRefresh<T>(asked: Promise<Answer<T>>): Promise<Answer<T>> {
  const answer = await asked
  if (answer.ok) await refreshPerson()
  return answer
}
