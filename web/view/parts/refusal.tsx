import type { Action } from '../../../server/wire/access.ts'
import { person, refusalOf } from '../../connect/person.ts'
import { address } from '../screens.ts'

/** Why this person may not; for somebody not signed in it is the way to the sign-in. */
export function Refusal({ reason }: { reason: string }) {
  return person.value?.name ? reason : <a href={address({ screen: 'sign-in' })}>{reason}</a>
}

/** The same for what a whole part of a screen needs; nothing where they may. */
export function RightHint({ action }: { action: Action }) {
  const reason = refusalOf(action)
  if (reason === null) return null
  return (
    <p class="hint" data-right={action}>
      <Refusal reason={reason} />
    </p>
  )
}

/** Why something was not done; nothing while there is no reason. */
export function Refused({ reason }: { reason: string | null }) {
  if (!reason) return null
  return (
    <p class="refused" role="alert">
      {reason}
    </p>
  )
}
