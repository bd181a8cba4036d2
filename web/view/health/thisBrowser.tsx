import { useSignal } from '@preact/signals'
import type { NotificationsReply } from '../../../server/wire/notifications.ts'
import { showMessagesHere, whyNoMessages } from '../../connect/browserMessages.ts'
import { may } from '../../connect/person.ts'
import { Button } from '../parts/button.tsx'
import { Choice } from '../parts/fields.tsx'

/** For recipients who are told by a browser: makes this one such a browser. */
export function BrowserMessages({ reply }: { reply: NotificationsReply }) {
  const said = useSignal('')
  const { pushKey, channels, paths } = reply
  const kinds = new Set(channels.filter(({ kind }) => kind === 'webPush').map(({ id }) => id))
  const people = paths.filter(({ channel }) => kinds.has(channel))
  const chosen = useSignal(people[0]?.recipient ?? '')
  if (pushKey === null || people.length === 0 || !may('settings')) return null
  const reason = whyNoMessages()
  const register = async () => {
    said.value = 'Asking the browser…'
    said.value = (await showMessagesHere(chosen.value, pushKey)).sentence
  }
  return (
    <p data-notify="browser">
      <label>
        Messages in this browser for{' '}
        <Choice
          value={chosen.value}
          options={people.map(({ recipient: id, name }) => ({ id, name }))}
          choose={(recipient) => {
            chosen.value = recipient
          }}
        />
      </label>{' '}
      <Button aria-disabled={reason !== null} onClick={() => reason === null && register()}>
        Show messages here
      </Button>{' '}
      <span role="status">{reason ?? said.value}</span>
    </p>
  )
}
