import { useSignal } from '@preact/signals'
import type { AlertPathView, NotificationsReply } from '../../../server/wire/notifications.ts'
import { formatCount } from '../../../server/wire/numbers.ts'
import { showMessagesHere, whyNoMessages } from '../../connect/browserMessages.ts'
import { http } from '../../connect/http.ts'
import { may } from '../../connect/person.ts'
import { usePolled } from '../../connect/poll.ts'
import { agoWords } from '../../format/age.ts'
import { dateTime, localZone } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import { Button } from '../parts/button.tsx'
import { Choice } from '../parts/fields.tsx'
import { Fold } from '../parts/fold.tsx'
import { Panel, Sign } from '../parts/panel.tsx'
import { WideTable } from '../parts/wideTable.tsx'

const EVERY_MS = 5000

/** Whether an alarm message would reach anybody, and what became of the last ones. */
export function NotificationsPanel() {
  const polled = usePolled(http.notifications, EVERY_MS, [])
  const reply = polled.reply.value
  if (!reply) return null
  return (
    <Panel id="notifications" title="Alarm messages">
      {!reply.configured && (
        <p class="quiet">
          Nobody is told of alarms: the server was started without a notification file (--notify).
        </p>
      )}
      {reply.configured && <Configured reply={reply} again={polled.again} />}
    </Panel>
  )
}

function Configured({ reply, again }: { reply: NotificationsReply; again: () => void }) {
  const { paths, deliveries, heartbeat, nextTestAt, uncovered, publicUrl } = reply
  return (
    <>
      {uncovered.length > 0 && (
        <p data-notify="uncovered">
          <Sign />
          No rule tells anybody of {counted(uncovered.length, 'high-priority alarm')}:{' '}
          {uncovered.map((one) => `${one.plant}/${one.alarm}`).join(', ')}
        </p>
      )}
      <WideTable
        caption="Ways to people and programs, and when each was last proven to work"
        heads={['Recipient', 'Channel', 'To', '#Proven', '#Accepted']}
        remarkHead="Last failure"
        rows={paths.map((path) => ({
          key: `${path.recipient}/${path.channel}`,
          isBad: path.isUnproven || path.failure !== null,
          cells: [
            path.name,
            path.channel,
            path.to,
            provenWords(path, reply.at),
            agoWords(path.acceptedAt, reply.at),
          ],
          remark: path.failure ?? '',
        }))}
      />
      <p class="quiet">
        {nextTestAt === null
          ? 'No weekly test is set up. '
          : `Next weekly test ${dateTime(nextTestAt, localZone)}. `}
        {heartbeat &&
          `Sign of life to ${heartbeat.to}: ${formatCount(heartbeat.sent)} sent, ${formatCount(heartbeat.failures)} failed. `}
        {publicUrl === null && 'Links in messages work only on this machine (--public-url is not set).'}
      </p>
      <TestButton again={again} />
      <BrowserMessages reply={reply} />
      <Fold title="Newest messages" note={counted(deliveries.length, 'message')} always>
        <WideTable
          caption="What became of the newest messages"
          heads={['Message', 'To', 'By', 'State', '#Planned']}
          remarkHead="Reason"
          rows={deliveries.slice(0, 30).map((one) => ({
            key: one.id,
            isBad: one.status === 'failed',
            cells: [one.short, one.recipient, one.channel, one.status, agoWords(one.createdAt, reply.at)],
            remark: one.reason ?? '',
          }))}
        />
      </Fold>
    </>
  )
}

function provenWords({ provenBy, provenAt }: AlertPathView, now: number): string {
  if (provenBy === 'nothing') return 'cannot be'
  return provenAt === null ? 'never' : agoWords(provenAt, now)
}

function TestButton({ again }: { again: () => void }) {
  const said = useSignal('')
  const send = async () => {
    said.value = 'Sending…'
    const answer = await http.testNotifications()
    said.value = answer.ok
      ? `${counted(answer.reply.planned, 'test message')} on the way: confirm each with its link.`
      : answer.error
    again()
  }
  return (
    <p>
      <Button onClick={send}>Send a test to everybody</Button> <span role="status">{said.value}</span>
    </p>
  )
}

/** For recipients who are told by a browser: makes this one such a browser. */
function BrowserMessages({ reply }: { reply: NotificationsReply }) {
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
