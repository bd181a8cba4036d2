import { request } from './http.ts'
import { refreshPerson } from './person.ts'

/** Ends the session in this browser, or in all of this person's. */
export async function signOut(everywhere = false): Promise<void> {
  await request(`/api/session${everywhere ? '?everywhere=true' : ''}`, {}, 'DELETE')
  await refreshPerson()
}
