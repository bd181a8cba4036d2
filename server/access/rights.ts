import type { Action, ActorRole } from '../wire/access.ts'
import { RIGHTS } from '../wire/rights.ts'

/** Somebody who may be held to account for what happens. */
export interface Actor {
  /** Null for the person at the machine of a demo. */
  id: number | null
  /** For the journal. */
  name: string
  role: ActorRole
  address: string
}

export function can(actor: Actor | undefined, action: Action): boolean {
  return actor !== undefined && RIGHTS[action].includes(actor.role)
}
