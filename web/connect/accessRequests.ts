import type {
  AuditReply,
  RecoveryCodesReply,
  Role,
  SecondFactorKey,
  SessionView,
  UserCodeReply,
  UserView,
} from '../../server/wire/access.ts'
import { type Answer, request } from './http.ts'
import { refreshPerson } from './person.ts'

type SignedIn = { name: string; role: Role }

export interface PasswordWish {
  name: string
  password: string
  secondFactor?: string | undefined
}

export interface CodeWish extends PasswordWish {
  code: string
}

/** Getting in and out, and what administrators do. Fetched only with the screens that need it. */
export const accessRequests = {
  signIn: (wish: PasswordWish) => thenRefresh(request<SignedIn>('/api/session', wish)),
  setUp: (wish: CodeWish) => thenRefresh(request<SignedIn>('/api/setup', wish)),
  useCode: (wish: CodeWish) => thenRefresh(request<SignedIn>('/api/password', wish)),
  changePassword: (wish: { current: string } & Omit<PasswordWish, 'name'>) =>
    thenRefresh(request<SignedIn>('/api/session/password', wish)),
  prove: (wish: Omit<PasswordWish, 'name'>) => request<{ ok: true }>('/api/session/proof', wish),
  beginSecondFactor: () => request<SecondFactorKey>('/api/session/secondFactor', {}),
  confirmSecondFactor: (code: string) =>
    thenRefresh(request<RecoveryCodesReply>('/api/session/secondFactor/confirm', { code })),
  renewRecoveryCodes: () =>
    thenRefresh(request<RecoveryCodesReply>('/api/session/secondFactor/recoveryCodes', {})),
  turnOffSecondFactor: () => thenRefresh(request<{ ok: true }>('/api/session/secondFactor', {}, 'DELETE')),
  sessions: () => request<SessionView[]>('/api/sessions'),
  endSession: (id: string) => request<{ ok: true }>(`/api/sessions/${encodeURIComponent(id)}`, {}, 'DELETE'),
  endOtherSessions: () => request<{ ok: true }>('/api/sessions', {}, 'DELETE'),
  users: () => request<UserView[]>('/api/users'),
  addUser: (name: string, role: Role) => request<UserCodeReply>('/api/users', { name, role }),
  changeRole: (id: number, role: Role) => request<UserView>(`/api/users/${id}`, { role }, 'PATCH'),
  resetPassword: (id: number) => request<UserCodeReply>(`/api/users/${id}/code`, {}),
  takeSecondFactorOff: (id: number) => request<UserView>(`/api/users/${id}/secondFactor`, {}, 'DELETE'),
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
