import type { Action } from '../wire/access.ts'

/** One route and the right that it needs. `open` is for everybody: what one needs in order to sign in. */
export interface RouteRight {
  method: 'get' | 'post' | 'patch' | 'put' | 'delete'
  path: string
  right: Action | 'open'
  /** The word in the audit; without one, the right. */
  action?: string
}

/** Every route of the HTTP interface. One that is not listed here is answered to nobody (test/server/http/rights.test.ts). */
export const ROUTE_RIGHTS: readonly RouteRight[] = [
  { method: 'get', path: '/metrics', right: 'read' },
  { method: 'get', path: '/api/health', right: 'read' },
  { method: 'get', path: '/api/openapi.json', right: 'open' },
  { method: 'get', path: '/api/plants', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/live', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/counters', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/counters/:counter/days', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/indices', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/balance', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/figures/:figure/explain', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/history', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/alarms', right: 'read' },
  { method: 'post', path: '/api/plants/:plant/alarms/:alarm/acknowledge', right: 'acknowledge' },
  { method: 'post', path: '/api/plants/:plant/alarms/:alarm/reset', right: 'reset' },
  { method: 'post', path: '/api/plants/:plant/alarms/:alarm/shelve', right: 'shelve' },
  { method: 'post', path: '/api/plants/:plant/alarms/:alarm/unshelve', right: 'shelve', action: 'unshelve' },
  {
    method: 'post',
    path: '/api/plants/:plant/alarms/:alarm/outOfService',
    right: 'withhold',
    action: 'take out of service',
  },
  { method: 'post', path: '/api/plants/:plant/alarms/:alarm/putBack', right: 'withhold', action: 'put back' },
  { method: 'get', path: '/api/plants/:plant/reports/alarms', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/events', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/events/:event', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/events/:event/csv', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/journal', right: 'read' },
  { method: 'post', path: '/api/plants/:plant/simulator/:control', right: 'simulate' },
  { method: 'get', path: '/api/plants/:plant/trials', right: 'read' },
  { method: 'post', path: '/api/plants/:plant/runs', right: 'trial', action: 'start a run' },
  { method: 'get', path: '/api/plants/:plant/runs/:run', right: 'read' },
  { method: 'get', path: '/api/plants/:plant/runs/:run/pack', right: 'read' },
  { method: 'post', path: '/api/plants/:plant/runs/:run/points', right: 'trial', action: 'enter a point' },
  {
    method: 'post',
    path: '/api/plants/:plant/runs/:run/points/:point',
    right: 'trial',
    action: 'judge a point',
  },
  { method: 'post', path: '/api/plants/:plant/runs/:run/arm', right: 'trial', action: 'arm a trace' },
  { method: 'get', path: '/api/plants/:plant/runs/:run/traces/:trace', right: 'read' },
  {
    method: 'post',
    path: '/api/plants/:plant/runs/:run/traces/:trace',
    right: 'trial',
    action: 'judge a trace',
  },
  { method: 'post', path: '/api/plants/:plant/runs/:run/repeat', right: 'trial', action: 'repeat a point' },
  { method: 'post', path: '/api/plants/:plant/runs/:run/notes', right: 'trial', action: 'edit notes' },
  { method: 'post', path: '/api/plants/:plant/runs/:run/finish', right: 'trial', action: 'end a run' },
  { method: 'get', path: '/api/notifications', right: 'read' },
  { method: 'post', path: '/api/notifications/test', right: 'settings', action: 'send a test message' },
  {
    method: 'post',
    path: '/api/notifications/channels/:channel/enable',
    right: 'settings',
    action: 'switch a channel on',
  },
  { method: 'post', path: '/api/notifications/browsers', right: 'settings', action: 'add a browser' },
  { method: 'get', path: '/api/session', right: 'open' },
  { method: 'post', path: '/api/session', right: 'open', action: 'sign in' },
  { method: 'delete', path: '/api/session', right: 'account', action: 'sign out' },
  { method: 'post', path: '/api/session/password', right: 'account', action: 'change password' },
  { method: 'post', path: '/api/setup', right: 'open', action: 'set up' },
  { method: 'post', path: '/api/password', right: 'open', action: 'set password' },
  { method: 'get', path: '/api/users', right: 'users' },
  { method: 'post', path: '/api/users', right: 'users', action: 'add user' },
  { method: 'patch', path: '/api/users/:user', right: 'users', action: 'change role' },
  { method: 'delete', path: '/api/users/:user', right: 'users', action: 'remove user' },
  { method: 'post', path: '/api/users/:user/code', right: 'users', action: 'reset password' },
  { method: 'get', path: '/api/audit', right: 'audit' },
]
