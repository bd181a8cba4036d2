import type { SessionView } from '../../../server/wire/access.ts'
import { accessRequests } from '../../connect/accessRequests.ts'
import { useDeed } from '../../connect/deed.ts'
import type { Answer } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { dateTime, localZone } from '../../format/time.ts'
import { Button } from '../parts/button.tsx'
import { Panel } from '../parts/panel.tsx'
import { Refused } from '../parts/refusal.tsx'

const EVERY_MS = 15_000

/** Where this person is signed in, so that one that is not theirs shows. */
export function SessionsPanel() {
  const sessions = usePolled(accessRequests.sessions, EVERY_MS, [])
  const { error, act } = useDeed()
  const end = async (deed: Promise<Answer<unknown>>) => {
    await act(deed)
    sessions.again()
  }
  const held = sessions.reply.value ?? []
  return (
    <Panel id="sessions" title="Signed in" count={held.length || ''}>
      {sessions.error.value && <p class="quiet">Not read: {sessions.error.value}</p>}
      <ul class="lines">
        {held.map((session) => (
          <SessionLine
            key={session.id}
            session={session}
            end={() => end(accessRequests.endSession(session.id))}
          />
        ))}
      </ul>
      <Refused reason={error.value} />
      {held.length > 1 && (
        <div class="buttons">
          <Button action="endOthers" onClick={() => end(accessRequests.endOtherSessions())}>
            Sign out all others
          </Button>
        </div>
      )}
      <p class="hint">
        One that you do not know? Sign it out and change your password. Behind a proxy the place is what the
        proxy tells.
      </p>
    </Panel>
  )
}

function SessionLine({ session, end }: { session: SessionView; end: () => unknown }) {
  const { browser, address, isThis, startedAt, seenAt } = session
  const name = browser ?? 'A program'
  return (
    <li class="session" data-session={isThis ? 'this' : 'other'}>
      <p>
        <b>{name}</b> {isThis && <span class="quiet">(this browser)</span>}
      </p>
      <p class="quiet">
        signed in {dateTime(startedAt, localZone)}, last seen {dateTime(seenAt, localZone)} from {address}
      </p>
      {!isThis && (
        <Button isSmall action="endSession" aria-label={`Sign out: ${name} at ${address}`} onClick={end}>
          Sign out
        </Button>
      )}
    </li>
  )
}
