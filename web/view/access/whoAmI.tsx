import { isDemo, person, signOut } from '../../connect/person.ts'
import { address } from '../screens.ts'

/** In the bar: who is signed in here, and the way out or in. */
export function WhoAmI() {
  if (!person.value) return null
  const { name, role } = person.value
  if (!name)
    return (
      <p class="who" data-who="">
        <a href={address({ screen: 'sign-in' })}>{isDemo() ? 'Demo' : 'Sign in'}</a>
      </p>
    )
  return (
    <p class="who" data-who={name}>
      <a href={address({ screen: 'sign-in' })}>
        <span class="spoken">Signed in as </span>
        {name} ({role})
      </a>
      <button type="button" data-action="signOut" onClick={() => void signOut()}>
        Sign out
      </button>
    </p>
  )
}
