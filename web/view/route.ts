import { signal } from '@preact/signals'
import { may, person } from '../connect/person.ts'
import { type Route, readRoute, screens } from './screens.ts'

/** What the address bar asks for. */
export const route = signal<Route>(readRoute(globalThis.location?.hash ?? ''))

/** A browser that has joined a lesson is nothing else until it leaves. */
export function isPhone(): boolean {
  return person.value !== null && may('attend') && !may('read')
}

/** What is shown: what was asked for, where this person may see anything at all. */
export function shownRoute(): Route {
  const wish = route.value
  if (isPhone() && wish.screen !== 'phone') return { screen: 'phone', code: '' }
  if (screens[wish.screen].right !== null && !may('read')) return { screen: 'sign-in' }
  return wish
}

/** Where somebody was before signing in. */
let place = '#/'

function rememberPlace(): void {
  const { screen } = readRoute(location.hash)
  if (screen !== 'sign-in' && screen !== 'set-up') place = location.hash || '#/'
}

export function backToPlace(): void {
  location.hash = place
}

/** Follows the address bar. */
export function followAddress(): void {
  rememberPlace()
  addEventListener('hashchange', () => {
    rememberPlace()
    route.value = readRoute(location.hash)
    scrollTo(0, 0)
  })
}
