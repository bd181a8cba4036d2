import { refusalOf } from '../../connect/person.ts'
import { Refusal } from '../parts/refusal.tsx'

/** Why this person may not run a trial, with the way to sign in; nothing where they may. */
export function TrialRight() {
  const reason = refusalOf('trial')
  if (reason === null) return null
  return (
    <p class="hint" data-right="trial">
      <Refusal reason={reason} />
    </p>
  )
}

export function mayTry(): boolean {
  return refusalOf('trial') === null
}
