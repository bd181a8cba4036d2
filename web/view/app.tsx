import { useSignalEffect } from '@preact/signals'
import { useRef } from 'preact/hooks'
import { may, person } from '../connect/person.ts'
import type { Session } from '../connect/session.ts'
import { clockTime, zoneName } from '../format/time.ts'
import { pageTitle } from '../format/title.ts'
import { counted, isUnacknowledged } from '../format/words.ts'
import type { PlantHold } from '../hold/plantHold.ts'
import { WhoAmI } from './access/whoAmI.tsx'
import { Announcer, LinkBanner } from './parts/banner.tsx'
import { lazily } from './parts/lazily.tsx'
import { PlantScreen } from './plant/plantScreen.tsx'
import { PlantsScreen } from './plants/plantsScreen.tsx'
import { type Route, route } from './route.ts'

const HealthScreen = lazily(() => import('./health/healthScreen.tsx').then((module) => module.HealthScreen))
const SignInScreen = lazily(() => import('./access/signInScreen.tsx').then((module) => module.SignInScreen))
const SetUpScreen = lazily(() => import('./access/setUpScreen.tsx').then((module) => module.SetUpScreen))
const PeopleScreen = lazily(() => import('./access/peopleScreen.tsx').then((module) => module.PeopleScreen))
const ReplayScreen = lazily(() => import('./replay/replayScreen.tsx').then((module) => module.ReplayScreen))
const TrialsScreen = lazily(() => import('./trials/trialsScreen.tsx').then((module) => module.TrialsScreen))

export function App({ session }: { session: Session }) {
  useSignalEffect(() => {
    const wish = route.value
    if (wish.screen === 'plant' || wish.screen === 'trials') session.show(wish.plant)
    else if (wish.screen === 'replay') session.show(`replay:${wish.replay}`)
    else session.leave()
  })
  useSignalEffect(() => {
    document.title = titleOf(route.value, session.hold.value)
  })
  useReopened(session)
  return (
    <>
      <button type="button" class="skip" onClick={skipToMain}>
        Skip to the figures
      </button>
      <header class="bar">
        <a class="wordmark" href="#/">
          Headrace
        </a>
        <nav aria-label="Screens">
          <NavLink href="#/" screen="plants" name="Plants" />
          <NavLink href="#/health" screen="health" name="Health" />
          {person.value && may('users') && <NavLink href="#/people" screen="people" name="People" />}
        </nav>
        <LinkLamp session={session} />
        <WhoAmI />
      </header>
      <LinkBanner session={session} />
      <Announcer session={session} />
      <main id="main" tabIndex={-1}>
        <Screen session={session} />
      </main>
      <Footer session={session} />
    </>
  )
}

/** The live connection belongs to whoever was signed in when it was opened. */
function useReopened(session: Session): void {
  const known = useRef<string | null | undefined>(undefined)
  useSignalEffect(() => {
    if (!person.value) return
    const { name } = person.value
    if (known.current !== undefined && known.current !== name) session.reopen()
    known.current = name
  })
}

const TITLES = {
  plants: 'Plants',
  health: 'Health',
  'sign-in': 'Sign in',
  'set-up': 'Set up',
  people: 'People',
} as const

function titleOf({ screen }: Route, hold: PlantHold | null): string {
  if (screen === 'trials') return pageTitle(hold ? `Trials, ${hold.view.name}` : 'Trials')
  if (screen === 'replay') return pageTitle(hold ? `Replay, ${hold.view.name}` : 'Replay')
  if (screen !== 'plant') return pageTitle(TITLES[screen])
  if (!hold) return pageTitle('Plant')
  const open = hold.alarms.value.filter((alarm) => isUnacknowledged(alarm.state)).length
  return pageTitle(hold.view.name, open)
}

/** A link to #main would change the address, which is the screen. */
function skipToMain(): void {
  document.getElementById('main')?.focus()
}

function Screen({ session }: { session: Session }) {
  const wish = route.value
  if (wish.screen === 'set-up') return <SetUpScreen />
  if (wish.screen === 'sign-in' || !may('read')) return <SignInScreen />
  if (wish.screen === 'people') return <PeopleScreen />
  if (wish.screen === 'plant') return <PlantScreen session={session} key={wish.plant} />
  if (wish.screen === 'trials')
    return <TrialsScreen session={session} run={wish.run} key={`${wish.plant} ${wish.run}`} />
  if (wish.screen === 'replay')
    return <ReplayScreen session={session} replay={wish.replay} key={wish.replay} />
  if (wish.screen === 'health') return <HealthScreen />
  return <PlantsScreen />
}

interface NavLinkProps {
  href: string
  screen: Route['screen']
  name: string
}

function NavLink({ href, screen, name }: NavLinkProps) {
  return (
    <a href={href} aria-current={route.value.screen === screen ? 'page' : undefined}>
      {name}
    </a>
  )
}

/** Filled: live. Hollow: not, and never for a recording. With the plant's time, by which every age on the page is counted. */
function LinkLamp({ session }: { session: Session }) {
  const hold = session.hold.value
  if (!hold) return null
  const isReplay = hold.scene.value?.replay != null
  const isGood = session.phase.value === 'live' && session.notice.value === null && !isReplay
  const zone = hold.view.timeZone
  const now = session.now.value
  return (
    <p class={isGood ? 'lamp lamp-live' : 'lamp'}>
      <span class="lamp-shape" aria-hidden="true" />
      <span class="lamp-word">{isReplay ? 'Replay' : isGood ? 'Live' : 'Not live'}</span>
      <time class="lamp-time">
        {clockTime(now, zone)} {zoneName(now, zone)}
      </time>
    </p>
  )
}

function Footer({ session }: { session: Session }) {
  const health = session.hold.value?.health.value
  return (
    <footer class="foot">
      <p>
        <strong>NOTICE</strong> This software watches and records. It does not protect people or machines.
        Independent, tested protection that works without this computer or network must be fitted. Delayed or
        missing data can look normal. Set points shown here are examples.
      </p>
      {health && (
        <p class="foot-health">
          <a href="#/health">
            {counted(health.faults, 'fault')} in messages, {counted(health.unmapped, 'unmapped topic')}
          </a>
        </p>
      )}
    </footer>
  )
}
