import { person } from '../../connect/person.ts'
import { address } from '../screens.ts'

/** Why this person may not; for somebody not signed in it is the way to the sign-in. */
export function Refusal({ reason }: { reason: string }) {
  return person.value?.name ? reason : <a href={address({ screen: 'sign-in' })}>{reason}</a>
}
