import { effect, signal } from '@preact/signals'
import type { Action, SessionReply } from '../../server/wire/access.ts'
import { actionWords } from '../format/rightWords.ts'
import { doubts, http } from './http.ts'

/** Who is signed in here and what they may do; null until the server has said so. */
export const person = signal<SessionReply | null>(null)

let asked = 0

/** Asks the server anew. Of answers that overtake one another the last asked for counts. */
export async function refreshPerson(): Promise<void> {
  const turn = ++asked
  const answer = await http.session()
  if (answer.ok && turn === asked && JSON.stringify(answer.reply) !== JSON.stringify(person.value))
    person.value = answer.reply
}

/** At the start, whenever an answer leaves a doubt, and when somebody comes back to the page. */
export function followPerson(): void {
  effect(() => {
    void doubts.value
    void refreshPerson()
  })
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) void refreshPerson()
  })
}

/** True as long as nothing is known: the server has the last word anyway. */
export function may(action: Action): boolean {
  return person.value?.actions.includes(action) ?? true
}

/** Nobody is signed in, and needs not be: a demo without users, on its own machine. */
export function isDemo(): boolean {
  return person.value?.role === 'demo'
}

/** Why this person may not; null when they may. For somebody not signed in it is what to do about it. */
export function refusalOf(action: Action): string | null {
  if (may(action)) return null
  const { name, role } = person.value ?? {}
  return name ? `Your role, ${role}, may not ${actionWords[action]}.` : `Sign in to ${actionWords[action]}`
}

/** Ends the session in this browser, or in all of this person's. */
export async function signOut(everywhere = false): Promise<void> {
  await http.signOut(everywhere)
  await refreshPerson()
}
