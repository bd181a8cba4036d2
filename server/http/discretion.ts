import type { IncomingMessage } from 'node:http'
import type { Access } from '../access/openAccess.ts'
import type { RoleOf } from '../push/withRoles.ts'
import type { JournalEntry } from '../wire/alarm.ts'
import type { NotificationsReply } from '../wire/notifications.ts'
import type { Standing } from '../wire/point.ts'
import type { HealthReply } from '../wire/replies.ts'
import type { RunReply } from '../wire/trial.ts'
import { HttpFault } from './errors.ts'

/** What stands in place of a fault, which may tell of machines beside this one. */
const FAULT_HIDDEN = 'It failed; whoever may change settings sees why.'
const SOMEBODY = 'somebody'

/** Channels and whether they work, without whom they reach and where. */
export function withoutPeople(reply: NotificationsReply): NotificationsReply {
  const hidden = { recipient: SOMEBODY }
  return {
    ...reply,
    paths: reply.paths.map((path) => ({ ...path, ...hidden, name: SOMEBODY, to: '' })),
    deliveries: reply.deliveries.map((one) => ({ ...one, ...hidden })),
    heartbeat: reply.heartbeat && { ...reply.heartbeat, to: '' },
  }
}

export function withoutFaults(reply: NotificationsReply): NotificationsReply {
  const { paths, deliveries, heartbeat, channels } = reply
  const hide = (fault: string | null) => (fault === null ? null : FAULT_HIDDEN)
  return {
    ...reply,
    channels: channels.map((one) => ({ ...one, disabled: hide(one.disabled) })),
    paths: paths.map((path) => ({ ...path, failure: hide(path.failure) })),
    deliveries: deliveries.map((one) =>
      one.status === 'cancelled' ? one : { ...one, reason: hide(one.reason) },
    ),
    heartbeat: heartbeat && { ...heartbeat, lastFailure: hide(heartbeat.lastFailure) },
  }
}

/** Without what came on topics, which may be anything, and names of files. */
export function withoutPayloads(reply: HealthReply): HealthReply {
  const { certificate, refusedFiles } = reply
  return {
    ...reply,
    certificate: certificate && { ...certificate, fault: certificate.fault && CERTIFICATE_FAULT },
    refusedFiles: refusedFiles && { ...refusedFiles, complaints: [SEEN_BY_PEOPLE] },
    topics: reply.topics.map(({ lastFault, ...topic }) =>
      lastFault ? { ...topic, lastFault: { ...lastFault, message: SEEN_INSIDE, example: '' } } : topic,
    ),
    unmapped: reply.unmapped.map((one) => ({ ...one, example: '' })),
  }
}

const CERTIFICATE_FAULT = 'The newest files cannot be used; whoever is signed in sees why.'
const SEEN_BY_PEOPLE = 'Whoever is signed in sees why.'
const SEEN_INSIDE = 'A message could not be used; whoever is signed in sees why.'

/** Somebody to whom the names of people are told: signed in, or at this machine. */
export function knowsPeople(access: Access, request: IncomingMessage): boolean {
  return access.requester(request).kind === 'person'
}

/** @returns what stands for the names of people; undefined where they may be told. */
export function namesFor(access: Access, request: IncomingMessage): RoleOf | undefined {
  return knowsPeople(access, request) ? undefined : rolesFor(access)
}

/** Packs and records name everybody who took part. @throws {HttpFault} 401 */
export function checkKnowsPeople({ access }: { access: Access }, request: IncomingMessage): void {
  if (!knowsPeople(access, request))
    throw new HttpFault(401, { error: 'Packs and records name the people of a run: sign in first.' })
}

/** @returns what stands for a name before somebody who is not signed in: the role, where the name is that of a user. */
function rolesFor(access: Access): RoleOf {
  const roles = new Map(access.administer.list().map(({ name, role }) => [name, role]))
  return (name) => roles.get(name) ?? SOMEBODY
}

/** Who did it and from where, told by role and kind of program. */
export function withRoles(entries: readonly JournalEntry[], access: Access): JournalEntry[] {
  const roleOf = rolesFor(access)
  return entries.map(({ by, via, ...entry }) => ({
    ...entry,
    ...(by === undefined ? {} : { by: roleOf(by) }),
    ...(via === undefined ? {} : { via: via.replace(/ at .*$/, '') }),
  }))
}

/** The same for a saved run, or notes of it. */
export function runWithRole<R extends { by: string }>(run: R, access: Access): R {
  return { ...run, by: rolesFor(access)(run.by) }
}

/** The same for a run with all that was taken and decided in it. */
export function replyWithRoles(reply: RunReply, access: Access): RunReply {
  const roleOf = rolesFor(access)
  const standing = <T extends Standing>(taken: T): T =>
    taken.decided ? { ...taken, decided: { ...taken.decided, by: roleOf(taken.decided.by) } } : taken
  const run = runWithRole(reply.run, access)
  const points = reply.points.map(({ measuredBy: _measuredBy, ...point }) => ({
    ...standing(point),
    by: roleOf(point.by),
  }))
  return reply.takes === 'points'
    ? { ...reply, run, points }
    : { ...reply, run, points, traces: reply.traces.map(standing) }
}
