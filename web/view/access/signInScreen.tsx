import { accessRequests } from '../../connect/accessRequests.ts'
import { isDemo, may, person, signOut } from '../../connect/person.ts'
import { roleWords } from '../../format/rightWords.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { backToPlace } from '../route.ts'
import { address } from '../screens.ts'
import { AskForm, NameField, NewPasswordField } from './askForm.tsx'
import { SecondFactorPanel, useSecondFactor } from './secondFactorPanel.tsx'
import { SessionsPanel } from './sessionsPanel.tsx'

/** The way in, and for somebody who is in, their own account. */
export function SignInScreen() {
  const who = person.value
  if (!who) return <p class="screen">Asking the server…</p>
  return (
    <div class="screen access" data-screen="sign-in">
      <h1>{who.name ? 'Your account' : 'Sign in'}</h1>
      {who.name ? <Account /> : <WayIn />}
    </div>
  )
}

function WayIn() {
  return (
    <>
      <p>
        {may('read')
          ? 'Reading needs no sign-in here. What you do, such as acknowledging an alarm, is recorded under your name.'
          : 'This server shows its plants to people who are signed in, and to a browser on its own machine that came in by the address on its console.'}
      </p>
      {isDemo() && (
        <p>
          This is the demo without users: this browser came in on the machine of the server and may do
          everything in it, recorded as “demo (this machine)”. That ends with the first user.
        </p>
      )}
      {!person.value?.hasUsers && (
        <p>
          There is no user yet. <a href={address({ screen: 'set-up' })}>Make the first administrator</a> with
          the set-up code on the server’s console.
        </p>
      )}
      <ByPassword />
      <ByCode />
    </>
  )
}

function ByPassword() {
  const second = useSecondFactor()
  return (
    <AskForm
      id="signIn"
      title="With your password"
      deed="Sign in"
      ask={({ name, password, secondFactor }) =>
        second.watch(accessRequests.signIn({ name: name!, password: password!, secondFactor }))
      }
      onDone={backToPlace}
    >
      <NameField label="Name" name="name" autocomplete="username" />
      <NameField label="Password" name="password" type="password" autocomplete="current-password" />
      {second.field}
    </AskForm>
  )
}

function ByCode() {
  const second = useSecondFactor()
  return (
    <AskForm
      id="useCode"
      title="With a one-time code"
      deed="Set the password and sign in"
      ask={({ name, code, password, secondFactor }) =>
        second.watch(accessRequests.useCode({ name: name!, code: code!, password: password!, secondFactor }))
      }
      onDone={backToPlace}
    >
      <p class="hint">From an administrator, for the first time or after a forgotten password.</p>
      <NameField label="Name" name="name" autocomplete="username" />
      <NameField label="One-time code" name="code" />
      <NewPasswordField />
      {second.field}
    </AskForm>
  )
}

function Account() {
  const { name, role } = person.value!
  const second = useSecondFactor()
  return (
    <>
      <Panel id="account" title={name!}>
        <p>
          Signed in as {role}: {role && role !== 'demo' && roleWords(role)}.
        </p>
        <div class="buttons">
          <Button onClick={signOut}>Sign out</Button>
          <Button action="signOutEverywhere" onClick={() => signOut(true)}>
            Sign out everywhere
          </Button>
        </div>
      </Panel>
      <SecondFactorPanel />
      <SessionsPanel />
      <AskForm
        id="changePassword"
        title="Change the password"
        deed="Change it"
        ask={({ current, password, secondFactor }) =>
          second.watch(
            accessRequests.changePassword({ current: current!, password: password!, secondFactor }),
          )
        }
        onDone={backToPlace}
      >
        <p class="hint">Other browsers in which you are signed in are signed out.</p>
        <NameField label="Present password" name="current" type="password" autocomplete="current-password" />
        <NewPasswordField />
        {second.field}
      </AskForm>
    </>
  )
}

/** Makes the first administrator, or lets one in again who cannot get in otherwise. */
export function SetUpScreen() {
  return (
    <div class="screen access" data-screen="set-up">
      <h1>Set up</h1>
      <p>
        The server wrote a set-up code on its console. Whoever can read that may make an administrator here,
        once.
        {person.value?.hasUsers && ' An old code is used up; the option --new-setup-code makes a new one.'}
      </p>
      <AskForm
        id="setUp"
        title="Administrator"
        deed="Make the administrator"
        ask={({ code, name, password }) =>
          accessRequests.setUp({ code: code!, name: name!, password: password! })
        }
        onDone={() => {
          location.hash = address({ screen: 'people' })
        }}
      >
        <NameField label="Set-up code" name="code" />
        <NameField
          label="Your name"
          name="name"
          autocomplete="username"
          hint="As journal and audit shall show it."
        />
        <NewPasswordField />
      </AskForm>
    </div>
  )
}
