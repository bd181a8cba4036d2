import { useSignalEffect } from '@preact/signals'
import { useRef } from 'preact/hooks'
import { isUnacknowledged } from '../../server/wire/alarm.ts'
import { may, person } from '../connect/person.ts'
import type { Session } from '../connect/session.ts'
import { clockTime, zoneName } from '../format/time.ts'
import { pageTitle } from '../format/title.ts'
import { counted } from '../format/words.ts'
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
const ClassScreen = lazily(() => import('./lessons/classScreen.tsx').then((module) => module.ClassScreen))
const LessonsScreen = lazily(() =>
  import('./lessons/lessonsScreen.tsx').then((module) => module.LessonsScreen),
)
const ProjectorScreen = lazily(() =>
  import('./lessons/projectorScreen.tsx').then((module) => module.ProjectorScreen),
)
const TrialsScreen = lazily(() => import('./trials/trialsScreen.tsx').then((module) => module.TrialsScreen))

export function App({ session }: { session: Session }) {
  useSignalEffect(() => {
    const wish = route.value
    // A class says itself what it shows.
    if (wish.screen === 'class' || isPhone()) return
    if (wish.screen === 'plant' || wish.screen === 'trials' || wish.screen === 'lessons')
      session.show(wish.plant)
    else if (wish.screen === 'replay') session.show(`replay:${wish.replay}`)
    else if (wish.screen === 'projector')
      session.show(wish.lesson === null ? wish.plant : `lesson:${wish.lesson}`)
    else session.leave()
  })
  useSignalEffect(() => {
    document.title = titleOf(route.value, session.hold.value)
  })
  useReopened(session)
  const wish = route.value
  if (wish.screen === 'projector' && may('read')) return <ProjectorScreen session={session} {...wish} />
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
          {!isPhone() && <NavLink href="#/" screen="plants" name="Plants" />}
          {!isPhone() && <NavLink href="#/health" screen="health" name="Health" />}
          {person.value && may('users') && <NavLink href="#/people" screen="people" name="People" />}
        </nav>
        <LinkLamp session={session} />
        {!isPhone() && <WhoAmI />}
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

/** A browser that has joined a class is nothing else until it leaves. */
function isPhone(): boolean {
  return person.value !== null && may('attend') && !may('read')
}

const TITLES = {
  class: 'Class',
  lessons: 'Classes',
  projector: 'Projector',
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
  if (wish.screen === 'class' || isPhone())
    return <ClassScreen session={session} code={wish.screen === 'class' ? wish.code : ''} />
  if (wish.screen === 'set-up') return <SetUpScreen />
  if (wish.screen === 'sign-in' || !may('read')) return <SignInScreen />
  if (wish.screen === 'people') return <PeopleScreen />
  if (wish.screen === 'plant') return <PlantScreen session={session} key={wish.plant} />
  if (wish.screen === 'trials')
    return <TrialsScreen session={session} run={wish.run} key={`${wish.plant} ${wish.run}`} />
  if (wish.screen === 'replay')
    return <ReplayScreen session={session} replay={wish.replay} key={wish.replay} />
  if (wish.screen === 'lessons') return <LessonsScreen session={session} lesson={wish.lesson} />
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
  const isFrozen = hold.scene.value?.lesson?.frozenAt != null
  const isGood = session.phase.value === 'live' && session.notice.value === null && !isReplay && !isFrozen
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
      {health && !isPhone() && (
        <p class="foot-health">
          <a href="#/health">
            {counted(health.faults, 'fault')} in messages, {counted(health.unmapped, 'unmapped topic')}
          </a>
        </p>
      )}
    </footer>
  )
}
