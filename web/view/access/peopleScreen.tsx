import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { AuditEntry, Role, UserCodeReply } from '../../../server/wire/access.ts'
import { ROLES } from '../../../server/wire/rights.ts'
import { accessRequests } from '../../connect/accessRequests.ts'
import { useDeed } from '../../connect/deed.ts'
import { usePolled } from '../../connect/poll.ts'
import { roleWords } from '../../format/rightWords.ts'
import { dateTime, dayTime, localZone, zoneName } from '../../format/time.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { WideTable } from '../parts/wideTable.tsx'
import { AskForm, NameField } from './askForm.tsx'
import { UserLine } from './userLine.tsx'

const EVERY_MS = 15_000

/** Who may sign in, as what, and what everybody did. For administrators. */
export function PeopleScreen() {
  return (
    <div class="screen" data-screen="people">
      <h1>People</h1>
      <Users />
      <AuditPanel />
    </div>
  )
}

function Users() {
  const users = usePolled(accessRequests.users, EVERY_MS, [])
  const handOver = useSignal<UserCodeReply | null>(null)
  const show = (reply: UserCodeReply | null) => {
    handOver.value = reply
    users.again()
  }
  return (
    <div class="stack people-pair">
      <Panel id="users" title="Users" count={users.reply.value?.length ?? ''}>
        {users.error.value && <p class="quiet">Not read: {users.error.value}</p>}
        <HandOver reply={handOver.value} />
        <ul class="lines">
          {users.reply.value?.map((user) => (
            <UserLine key={user.id} user={user} show={show} />
          ))}
        </ul>
      </Panel>
      <AskForm
        id="addUser"
        title="Add somebody"
        deed="Add"
        ask={({ name, role }) => accessRequests.addUser(name!, role as Role)}
        onDone={show}
      >
        <NameField label="Name" name="name" />
        <RoleChoice />
      </AskForm>
    </div>
  )
}

function RoleChoice() {
  return (
    <fieldset class="role-choice">
      <legend>Role</legend>
      {ROLES.map((role) => (
        <label key={role}>
          <input type="radio" name="role" value={role} required defaultChecked={role === 'viewer'} />
          <span>
            <b>{role}</b> <span class="quiet">{roleWords(role)}</span>
          </span>
        </label>
      ))}
    </fieldset>
  )
}

/** The code is shown this once: the server keeps only a hash of it. */
function HandOver({ reply }: { reply: UserCodeReply | null }) {
  return (
    <div role="status">
      {reply && (
        <p class="hand-over">
          Hand this one-time code to {reply.user.name}: <code data-code={reply.user.name}>{reply.code}</code>{' '}
          With it and a password of their choice they get in, until{' '}
          {dateTime(reply.user.codeUntil ?? 0, localZone)}. It is not shown again.
        </p>
      )}
    </div>
  )
}

/** Who did what, newest first, page by page. */
function AuditPanel() {
  const entries = useSignal<AuditEntry[] | null>(null)
  const { error, act } = useDeed()
  const hasOlder = useSignal(true)
  const read = async (held: AuditEntry[]) => {
    const page = await act(accessRequests.audit(held.at(-1)?.sequence))
    if (!page) return
    hasOlder.value = page.entries.length > 0
    entries.value = [...held, ...page.entries]
  }
  useEffect(() => void read([]), [])
  return (
    <Panel id="audit" title="Audit" count={`times in ${zoneName(Date.now(), localZone)}`}>
      {error.value && <p class="quiet">Not read: {error.value}</p>}
      {entries.value && (
        <WideTable
          caption="What was done and what was refused, newest first"
          heads={['Time', 'Who', 'What', 'To', 'Outcome']}
          remarkHead="Remark"
          rows={entries.value.map(rowOf)}
        />
      )}
      <div class="buttons">
        <Button isSmall onClick={() => read([])}>
          Read again
        </Button>
        {hasOlder.value && entries.value && (
          <Button isSmall action="older" onClick={() => read(entries.value ?? [])}>
            Older
          </Button>
        )}
      </div>
    </Panel>
  )
}

function rowOf({ sequence, at, who, role, address, action, target, detail, outcome }: AuditEntry) {
  return {
    key: String(sequence),
    isBad: outcome !== 'done',
    cells: [
      dayTime(at, localZone),
      role && role !== 'demo' ? `${who} (${role})` : (who ?? 'not signed in'),
      action,
      target,
      outcome,
    ],
    remark: [detail, `from ${address}`].filter((part) => part !== null).join(', '),
  }
}
