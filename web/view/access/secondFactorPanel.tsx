import { useSignal } from '@preact/signals'
import type { SecondFactorKey, SecondFactorView } from '../../../server/wire/access.ts'
import { accessRequests } from '../../connect/accessRequests.ts'
import { useDeed } from '../../connect/deed.ts'
import type { Answer } from '../../connect/http.ts'
import { person } from '../../connect/person.ts'
import { dateTime, localZone } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import { Button, Confirm } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { QrCode } from '../parts/qrCode.tsx'
import { Refused } from '../parts/refusal.tsx'
import { AskForm, NameField } from './askForm.tsx'

/** A code from an app besides the password: set up, shown, taken off. */
export function SecondFactorPanel() {
  const key = useSignal<SecondFactorKey | null>(null)
  const recoveryCodes = useSignal<string[] | null>(null)
  const { error, act } = useDeed()
  const begin = async () => {
    recoveryCodes.value = null
    key.value = await act(accessRequests.beginSecondFactor())
  }
  const renew = async () => {
    const reply = await act(accessRequests.renewRecoveryCodes())
    if (reply) recoveryCodes.value = reply.recoveryCodes
  }
  const turnOff = async () => {
    if (await act(accessRequests.turnOffSecondFactor())) recoveryCodes.value = null
  }
  if (key.value)
    return (
      <NewKey
        secret={key.value}
        onDone={(codes) => {
          key.value = null
          recoveryCodes.value = codes
        }}
      />
    )
  const factor = person.value?.secondFactor ?? null
  return (
    <Panel id="secondFactor" title="Second factor" count={factor ? 'on' : 'off'}>
      <RecoveryCodes codes={recoveryCodes.value} />
      {factor ? (
        <IsOn factor={factor} renew={renew} turnOff={turnOff} />
      ) : (
        <p>
          A code from an app on your phone is then asked for after the password, so that a password that
          somebody has learned is not enough.
        </p>
      )}
      <div class="buttons">
        <Button action="beginSecondFactor" onClick={begin}>
          {factor ? 'Move it to another phone' : 'Set it up'}
        </Button>
      </div>
      <Refused reason={error.value} />
    </Panel>
  )
}

function IsOn({
  factor: { since, recoveryCodes },
  renew,
  turnOff,
}: {
  factor: SecondFactorView
  renew: () => unknown
  turnOff: () => unknown
}) {
  return (
    <>
      <p>
        On since {dateTime(since, localZone)}; {counted(recoveryCodes, 'recovery code')} left.
      </p>
      <div class="buttons">
        <Button action="renewRecoveryCodes" onClick={renew}>
          New recovery codes
        </Button>
        <Confirm
          action="turnOffSecondFactor"
          word="Turn it off"
          question="The password alone is enough then."
          yes="Turn it off"
          no="Keep it"
          deed={turnOff}
        />
      </div>
    </>
  )
}

/** Shown this once: the server keeps only hashes. */
function RecoveryCodes({ codes }: { codes: string[] | null }) {
  return (
    <div role="status">
      {codes && (
        <div class="hand-over">
          <p>
            Write these recovery codes down and keep them apart from the phone. Each gets you in once when the
            phone is lost. They are not shown again.
          </p>
          <ul class="recovery-codes">
            {codes.map((code) => (
              <li key={code}>
                <code>{code}</code>
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  )
}

/** The key counts once a code of it was typed. */
function NewKey({ secret, onDone }: { secret: SecondFactorKey; onDone: (codes: string[]) => void }) {
  return (
    <AskForm
      id="confirmSecondFactor"
      title="Set up the second factor"
      deed="Turn it on"
      ask={({ code }) => accessRequests.confirmSecondFactor(code!)}
      onDone={({ recoveryCodes }) => onDone(recoveryCodes)}
    >
      <p>Read this with an app for one-time codes, or type the key into it.</p>
      <QrCode qr={secret.qr} label="QR code of the key" />
      <p class="secret-key">
        <code data-key>{secret.key.replace(/.{4}(?=.)/g, '$& ')}</code>
      </p>
      <NameField
        label="Code that the app shows"
        name="code"
        inputMode="numeric"
        autocomplete="one-time-code"
        hint="With the first code it is on. The key is not shown again."
      />
    </AskForm>
  )
}

/** Remembers whether the server wants the code of a second factor, so that the form asks for it too. */
export function useSecondFactor() {
  const isWanted = useSignal(false)
  const watch = async <T,>(asked: Promise<Answer<T>>): Promise<Answer<T>> => {
    const answer = await asked
    if (!answer.ok && answer.needs === 'secondFactor') isWanted.value = true
    return answer
  }
  return { field: isWanted.value && <SecondFactorField />, watch }
}

/** Asked for after the right password. */
function SecondFactorField() {
  return (
    <div ref={focusWithin}>
      <NameField
        label="Code of the second factor"
        name="secondFactor"
        autocomplete="one-time-code"
        hint="From your app, or one of your recovery codes."
      />
    </div>
  )
}

function focusWithin(element: HTMLElement | null): void {
  element?.querySelector('input')?.focus()
}
