import type { PageEdges } from '../../server/edges.ts'
import { USUAL_LIMITS } from '../../server/http/admission.ts'
import { USUAL_SOCKET_LIMITS } from '../../server/push/socketDoor.ts'

export type Limits = NonNullable<PageEdges['limits']>

export const USUAL: Limits = { http: USUAL_LIMITS, sockets: USUAL_SOCKET_LIMITS }

const MUCH = { perSecond: 0, burst: 1e9 }

/** For tests about something else: their clock stands still, so that no allowance would ever be given again. */
export const GENEROUS: Limits = {
  http: {
    ...USUAL_LIMITS,
    requests: { person: MUCH, seat: MUCH, stranger: MUCH },
    files: MUCH,
    strangers: MUCH,
    unanswered: 1000,
  },
  sockets: { ...USUAL_SOCKET_LIMITS, connecting: MUCH, messages: MUCH, joins: MUCH, before: MUCH },
}
