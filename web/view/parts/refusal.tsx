import { person } from '../../connect/person.ts'
import { address } from '../screens.ts'

/** Why this person may not; for somebody not signed in it is the way to the sign-in. */
export function Refusal({ reason }: { reason: string }) {
  return person.value?.name ? reason : <a href={address({ screen: 'sign-in' })}>{reason}</a>
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
