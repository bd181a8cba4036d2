import { computed, useSignalEffect } from '@preact/signals'
import type { ComponentChildren, ComponentType } from 'preact'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { isUnacknowledged } from '../../server/wire/alarm.ts'
import { createAlertSound } from '../connect/alertSound.ts'
import type { Connection } from '../connect/connection.ts'
import { isDemo, may, person, refusalOf, signOut } from '../connect/person.ts'
import { proofWish } from '../connect/proof.ts'
import { clockTime, zoneName } from '../format/time.ts'
import { counted, pageTitle } from '../format/words.ts'
import type { PlantHold } from '../hold/plantHold.ts'
import { components } from './components.tsx'
import { Announcer, LinkBanner } from './parts/banner.tsx'
import { DangerStrips, isDangerOpen, type StripProps } from './parts/dangerStrip.tsx'
import { lazily } from './parts/lazily.tsx'
import { Refusal } from './parts/refusal.tsx'
import { SceneFrame } from './parts/sceneFrame.tsx'
import { AlertSoundContext } from './parts/soundButton.tsx'
import { PlantList, useFollowedPlants } from './plants/plantList.ts'
import { isPhone, route, shownRoute } from './route.ts'
import { address, linkedScreens, type Route, type ScreenName, sceneOf, screens } from './screens.ts'

const ProofSheet = lazily(() => import('./access/proofSheet.tsx').then((module) => module.ProofSheet))

export function App({ connection }: { connection: Connection }) {
  useSignalEffect(() => watchScene(connection))
  useSignalEffect(() => {
    document.title = titleOf(route.value, connection.hold.value)
  })
  useReopened(connection)
  const plants = useFollowedPlants()
  const sound = useMemo(
    () => createAlertSound(computed(() => isDangerOpen({ connection, plants }))),
    [plants],
  )
  useEffect(() => sound.close, [sound])
  const shown = shownRoute()
  const screen = <Screen connection={connection} shown={shown} key={address(shown)} />
  return (
    <AlertSoundContext.Provider value={sound}>
      <PlantList.Provider value={plants}>
        {screens[shown.screen].frame === 'none' ? (
          screen
        ) : (
          <Framed connection={connection} plants={plants}>
            {screen}
          </Framed>
        )}
      </PlantList.Provider>
    </AlertSoundContext.Provider>
  )
}

/** A screen with the bar over it, and what has to be in sight whatever it shows. */
function Framed({ connection, plants, children }: StripProps & { children: ComponentChildren }) {
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
        <LinkLamp connection={connection} />
        {!isPhone() && <WhoAmI />}
      </header>
      <div class="in-sight">
        {!isPhone() && <DangerStrips connection={connection} plants={plants} />}
        <LinkBanner connection={connection} />
      </div>
      <Announcer connection={connection} />
      <main id="main" tabIndex={-1}>
        {children}
      </main>
      <Footer connection={connection} />
      {proofWish.value && <ProofSheet />}
    </>
  )
}

/** Follows what the address asks for; what a lesson shows the phone finds out itself. */
function watchScene(connection: Connection): void {
  if (isPhone() || route.value.screen === 'phone') return
  const scene = sceneOf(route.value)
  if (scene === null) connection.leave()
  else connection.show(scene)
}

/** The live connection belongs to whoever was signed in when it was opened. */
function useReopened(connection: Connection): void {
  const known = useRef<string | null | undefined>(undefined)
  useSignalEffect(() => {
    if (!person.value) return
    const { name } = person.value
    if (known.current !== undefined && known.current !== name) connection.reopen()
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

function Screen({ connection, shown }: { connection: Connection; shown: Route }) {
  const { frame } = screens[shown.screen]
  if (frame === 'page' || frame === 'none') return <Content connection={connection} shown={shown} />
  return (
    <SceneFrame connection={connection} shown={shown} kind={frame}>
      {(hold) => <Content connection={connection} shown={shown} hold={hold} />}
    </SceneFrame>
  )
}

interface ContentProps {
  connection: Connection
  shown: Route
  hold?: PlantHold
}

/** The screen itself, or why this person may not see it. */
function Content({ connection, shown, hold }: ContentProps) {
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
  return <Part connection={connection} hold={hold} {...parameters} key={hold?.view.id} />
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
function LinkLamp({ connection }: { connection: Connection }) {
  const hold = connection.hold.value
  if (!hold) return null
  const isReplay = hold.scene.value?.replay != null
  const isFrozen = hold.scene.value?.lesson?.frozenAt != null
  const isGood = connection.phase.value === 'live' && !connection.isWithheld.value && !isReplay && !isFrozen
  const zone = hold.view.timeZone
  const now = connection.now.value
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

function Footer({ connection }: { connection: Connection }) {
  const health = connection.hold.value?.health.value
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

/** In the bar: who is signed in here, and the way out or in. */
function WhoAmI() {
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
