import { person, refusalOf } from '../../connect/person.ts'

/** Why this person may not run a trial, with the way to sign in; nothing where they may. */
export function TrialRight() {
  const reason = refusalOf('trial')
  if (reason === null) return null
  return (
    <p class="hint" data-right="trial">
      {person.value?.name ? reason : <a href="#/sign-in">{reason}</a>}
    </p>
  )
}

export function mayTry(): boolean {
  return refusalOf('trial') === null
}
