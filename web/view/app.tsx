import { useSignalEffect } from '@preact/signals'
import type { ComponentType } from 'preact'
import { useRef } from 'preact/hooks'
import { isUnacknowledged } from '../../server/wire/alarm.ts'
import { may, person, refusalOf } from '../connect/person.ts'
import type { Session } from '../connect/session.ts'
import { clockTime, zoneName } from '../format/time.ts'
import { counted, pageTitle } from '../format/words.ts'
import type { PlantHold } from '../hold/plantHold.ts'
import { WhoAmI } from './access/whoAmI.tsx'
import { components } from './components.tsx'
import { Announcer, LinkBanner } from './parts/banner.tsx'
import { Refusal } from './parts/refusal.tsx'
import { SceneFrame } from './parts/sceneFrame.tsx'
import { isPhone, route, shownRoute } from './route.ts'
import { address, linkedScreens, type Route, type ScreenName, sceneOf, screens } from './screens.ts'

export function App({ session }: { session: Session }) {
  useSignalEffect(() => watchScene(session))
  useSignalEffect(() => {
    document.title = titleOf(route.value, session.hold.value)
  })
  useReopened(session)
  const shown = shownRoute()
  const screen = <Screen session={session} shown={shown} key={address(shown)} />
  if (screens[shown.screen].frame === 'none') return screen
  return (
    <>
      <button type="button" class="skip" onClick={skipToMain}>
        Skip to the figures
      </button>
      <header class="bar">
        <a class="wordmark" href={address({ screen: 'plants' })}>
          Headrace
        </a>
        <nav aria-label="Screens">
          {linkedScreens('bar').map((name) => (
            <NavLink key={name} screen={name} />
          ))}
        </nav>
        <LinkLamp session={session} />
        {!isPhone() && <WhoAmI />}
      </header>
      <LinkBanner session={session} />
      <Announcer session={session} />
      <main id="main" tabIndex={-1}>
        {screen}
      </main>
      <Footer session={session} />
    </>
  )
}

/** Follows what the address asks for; what a lesson shows the phone finds out itself. */
function watchScene(session: Session): void {
  if (isPhone() || route.value.screen === 'phone') return
  const scene = sceneOf(route.value)
  if (scene === null) session.leave()
  else session.show(scene)
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

function titleOf({ screen }: Route, hold: PlantHold | null): string {
  const { title, frame } = screens[screen]
  if (!hold || frame === 'page' || frame === 'none') return pageTitle(title)
  if (screen !== 'plant') return pageTitle(`${title}, ${hold.view.name}`)
  const open = hold.alarms.value.filter((alarm) => isUnacknowledged(alarm.state)).length
  return pageTitle(hold.view.name, open)
}

/** A link to #main would change the address, which is the screen. */
function skipToMain(): void {
  document.getElementById('main')?.focus()
}

function Screen({ session, shown }: { session: Session; shown: Route }) {
  const { frame } = screens[shown.screen]
  if (frame === 'page' || frame === 'none') return <Content session={session} shown={shown} />
  return (
    <SceneFrame session={session} shown={shown} kind={frame}>
      {(hold) => <Content session={session} shown={shown} hold={hold} />}
    </SceneFrame>
  )
}

interface ContentProps {
  session: Session
  shown: Route
  hold?: PlantHold
}

/** The screen itself, or why this person may not see it. */
function Content({ session, shown, hold }: ContentProps) {
  const { title, right } = screens[shown.screen]
  const refusal = right && refusalOf(right)
  if (refusal)
    return (
      <div class={hold ? undefined : 'screen'} data-screen={hold ? undefined : shown.screen}>
        <h1>{title}</h1>
        <p class="refused">
          <Refusal reason={refusal} />
        </p>
      </div>
    )
  // What the table of components holds under this name takes what its row in the table of screens says.
  const Part = components[shown.screen] as ComponentType<Record<string, unknown>>
  const { screen: _screen, ...parameters } = shown
  return <Part session={session} hold={hold} {...parameters} key={hold?.view.id} />
}

/** On a phone of a lesson there is none, and of a screen with a right of its own only for those who have it. */
function NavLink({ screen }: { screen: ScreenName }) {
  const { right, link } = screens[screen]
  if (isPhone() || (right !== 'read' && !(person.value && right && may(right)))) return null
  return (
    <a href={address({ screen } as Route)} aria-current={route.value.screen === screen ? 'page' : undefined}>
      {link?.name}
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
          <a href={address({ screen: 'health' })}>
            {counted(health.faults, 'fault')} in messages, {counted(health.unmapped, 'unmapped topic')}
          </a>
        </p>
      )}
    </footer>
  )
}
