import type { Request, Response } from 'express'
import type { Access } from '../access/openAccess.ts'
import { readVisitor } from '../access/visitor.ts'
import type { AuditEntry } from '../wire/access.ts'
import type { AuditNote, Route } from './route.ts'

const notes = new WeakMap<Response, AuditNote>()

/** Adds to the line that the audit will hold about this request. */
export function noteForAudit(response: Response, note: AuditNote): void {
  notes.set(response, { ...notes.get(response), ...note })
}

/**
 * Writes one line when the answer is given, whatever it is, and also when nobody waits for it any more. The
 * answer's `end` is what every way out has in common; "finish" does not come once the browser has gone.
 */
export function followToAudit(
  access: Access,
  row: Route,
  { request, response }: { request: Request; response: Response },
): void {
  const actor = access.actor(request)
  const { address } = readVisitor(request)
  const target = targetOf(request.path, row)
  const end = response.end
  response.end = ((...given: Parameters<typeof end>) => {
    response.end = end
    const outcome = outcomeOf(response.statusCode)
    if (row.method !== 'get' || outcome === 'refused') {
      const note = notes.get(response)
      access.audit.record({
        who: note?.who ?? actor?.name ?? null,
        role: actor?.role ?? null,
        address,
        action: row.action ?? row.right,
        target: (note?.target ?? target).slice(0, 200),
        detail: note?.detail?.slice(0, 500) ?? null,
        outcome,
      })
    }
    return response.end(...given)
  }) as typeof end
}

/** "plants/mill/alarms/low" of …/alarms/low/acknowledge; nothing where the deed says it all. */
function targetOf(path: string, { right, action }: Route): string {
  if (right === 'open' || right === 'account') return ''
  const whole = path.replace(/^\/api\//, '')
  const deed = `/${action ?? right}`
  return whole.endsWith(deed) ? whole.slice(0, -deed.length) : whole
}

function outcomeOf(status: number): AuditEntry['outcome'] {
  if (status < 400) return 'done'
  return [401, 403, 429].includes(status) ? 'refused' : 'failed'
}
