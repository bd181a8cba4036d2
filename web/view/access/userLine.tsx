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

type Deed = 'reset' | 'secondFactor' | 'remove'

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
    if (deed === 'reset') return show(await run(accessRequests.resetPassword(user.id)))
    const { takeSecondFactorOff, removeUser } = accessRequests
    if (await run<unknown>(deed === 'remove' ? removeUser(user.id) : takeSecondFactorOff(user.id))) show(null)
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
      <Buttons user={user} asked={asked.value} ask={(deed) => (asked.value = deed)} perform={perform} />
      <Refused reason={error.value && `Not done: ${error.value}`} />
    </li>
  )
}

function stateText({ hasPassword, codeUntil, signedInAt, sessions, hasSecondFactor }: UserView): string {
  if (!hasPassword && codeUntil !== null) return `has a one-time code until ${dateTime(codeUntil, localZone)}`
  if (!hasPassword) return 'cannot get in: the one-time code is too old'
  const last = signedInAt === null ? 'never signed in' : `last signed in ${dateTime(signedInAt, localZone)}`
  const now = sessions === 0 ? '' : `, in ${counted(sessions, 'browser')} now`
  return `${last}${now}${hasSecondFactor ? '; with a second factor' : ''}`
}

const QUESTIONS: Record<Deed, { word: string; question: string }> = {
  reset: { word: 'Reset password', question: 'Take the password away and make a code?' },
  secondFactor: {
    word: 'Take second factor off',
    question: 'Let the password alone be enough? For a lost phone.',
  },
  remove: { word: 'Remove', question: 'Remove this user? The name stays in journal and audit.' },
}

interface ButtonsProps {
  user: UserView
  asked: Deed | null
  ask: (deed: Deed | null) => void
  perform: (deed: Deed) => Promise<void>
}

/** Each is asked back for: neither can be undone. */
function Buttons({ user: { name, hasSecondFactor }, asked, ask, perform }: ButtonsProps) {
  const deeds = Object.keys(QUESTIONS) as Deed[]
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
      {deeds
        .filter((deed) => deed !== 'secondFactor' || hasSecondFactor)
        .map((deed) => (
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
