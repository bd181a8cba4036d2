import { useSignal } from '@preact/signals'
import type { Role, UserCodeReply, UserView } from '../../../server/wire/access.ts'
import { ROLES } from '../../../server/wire/rights.ts'
import { accessRequests } from '../../connect/accessRequests.ts'
import { useDeed } from '../../connect/deed.ts'
import type { Answer } from '../../connect/http.ts'
import { refreshPerson } from '../../connect/person.ts'
import { dateTime, localZone } from '../../format/time.ts'
import { counted } from '../../format/words.ts'
import { Button } from '../parts/button.tsx'
import { Choice } from '../parts/fields.tsx'
import { Refused } from '../parts/refusal.tsx'

export interface UserLineProps {
  user: UserView
  /** Shows a code, or nothing, and has the list read again. */
  show: (reply: UserCodeReply | null) => void
}

type Deed = 'reset' | 'remove'

export function UserLine({ user, show }: UserLineProps) {
  const { error, act } = useDeed()
  const asked = useSignal<Deed | null>(null)
  const run = async <T,>(request: Promise<Answer<T>>): Promise<T | null> => {
    const reply = await act(request)
    asked.value = null
    void refreshPerson()
    return reply
  }
  const perform = async (deed: Deed) => {
    if (deed === 'reset') show(await run(accessRequests.resetPassword(user.id)))
    else if (await run(accessRequests.removeUser(user.id))) show(null)
  }
  const changeRole = async (role: Role) => {
    await run(accessRequests.changeRole(user.id, role))
    show(null)
  }
  return (
    <li class="user" data-user={user.name}>
      <p class="user-name">{user.name}</p>
      <Choice
        aria-label={`Role of ${user.name}`}
        value={user.role}
        options={ROLES.map((role) => ({ id: role, name: role }))}
        choose={(role) => void changeRole(role)}
      />
      <p class="quiet">{stateText(user)}</p>
      <Buttons name={user.name} asked={asked.value} ask={(deed) => (asked.value = deed)} perform={perform} />
      <Refused reason={error.value && `Not done: ${error.value}`} />
    </li>
  )
}

function stateText({ hasPassword, codeUntil, signedInAt, sessions }: UserView): string {
  if (!hasPassword && codeUntil !== null) return `has a one-time code until ${dateTime(codeUntil, localZone)}`
  if (!hasPassword) return 'cannot get in: the one-time code is too old'
  const last = signedInAt === null ? 'never signed in' : `last signed in ${dateTime(signedInAt, localZone)}`
  return sessions === 0 ? last : `${last}, in ${counted(sessions, 'browser')} now`
}

const QUESTIONS: Record<Deed, { word: string; question: string }> = {
  reset: { word: 'Reset password', question: 'Take the password away and make a code?' },
  remove: { word: 'Remove', question: 'Remove this user? The name stays in journal and audit.' },
}

interface ButtonsProps {
  name: string
  asked: Deed | null
  ask: (deed: Deed | null) => void
  perform: (deed: Deed) => Promise<void>
}

/** Each is asked back for: neither can be undone. */
function Buttons({ name, asked, ask, perform }: ButtonsProps) {
  if (asked)
    return (
      <div class="buttons">
        <span>{QUESTIONS[asked].question}</span>
        <Button
          isSmall
          action={`confirm-${asked}`}
          aria-label={`Yes, ${QUESTIONS[asked].word.toLowerCase()}: ${name}`}
          onClick={() => perform(asked)}
        >
          Yes
        </Button>
        <Button isSmall onClick={() => ask(null)}>
          No
        </Button>
      </div>
    )
  return (
    <div class="buttons">
      {(Object.keys(QUESTIONS) as Deed[]).map((deed) => (
        <Button
          key={deed}
          isSmall
          action={deed}
          aria-label={`${QUESTIONS[deed].word}: ${name}`}
          onClick={() => ask(deed)}
        >
          {QUESTIONS[deed].word}
        </Button>
      ))}
    </div>
  )
}
