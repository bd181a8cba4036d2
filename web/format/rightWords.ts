import type { Action, Role } from '../../server/wire/access.ts'
import { ACTIONS, RIGHTS, ROLES } from '../../server/wire/rights.ts'

/** Each action as in "may not …". */
export const actionWords: Record<Action, string> = {
  read: 'read everything',
  simulate: 'use the simulator',
  trial: 'run a trial',
  amend: 'change the finished runs of others',
  teach: 'show a recording or give a lesson',
  attend: 'take part in a lesson',
  acknowledge: 'acknowledge',
  reset: 'reset',
  shelve: 'shelve alarms',
  withhold: 'take alarms out of service',
  settings: 'change settings',
  account: 'change their password',
  users: 'manage people',
  audit: 'read the audit',
}

/** "as a viewer, and may use the simulator and run a trial": what a role adds to the one before it. */
export function roleWords(role: Role): string {
  const before = ROLES[ROLES.indexOf(role) - 1]
  const added = ACTIONS.filter(
    (action) => RIGHTS[action].includes(role) && !(before && RIGHTS[action].includes(before)),
  )
  const article = before && /^[aeiou]/.test(before) ? 'an' : 'a'
  return `${before ? `as ${article} ${before}, and ` : ''}may ${listed(added.map((action) => actionWords[action]))}`
}

function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
