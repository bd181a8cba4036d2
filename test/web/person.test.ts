import { afterEach, describe, expect, it, vi } from 'vitest'
import type { SessionReply } from '../../server/wire/access.ts'
import { doubts, http } from '../../web/connect/http.ts'
import { isDemo, may, person, refreshPerson, refusalOf } from '../../web/connect/person.ts'

const stranger: SessionReply = {
  name: null,
  role: null,
  actions: ['read'],
  secondFactor: null,
  hasUsers: true,
}
const viewer: SessionReply = {
  name: 'Vi',
  role: 'viewer',
  actions: ['read', 'account'],
  secondFactor: null,
  hasUsers: true,
}

describe('what the page lets a person try', () => {
  afterEach(() => {
    person.value = null
    vi.unstubAllGlobals()
  })

  it('is everything until the server has said who they are', () => {
    expect(may('acknowledge')).toBe(true)
    expect(refusalOf('acknowledge')).toBeNull()
  })

  it('is refused with what to do, or with their role', () => {
    person.value = stranger
    expect(refusalOf('acknowledge')).toBe('Sign in to acknowledge')
    person.value = viewer
    expect(refusalOf('simulate')).toBe('Your role, viewer, may not use the simulator.')
    expect(refusalOf('read')).toBeNull()
  })

  it('follows the answer asked for last, whichever comes last', async () => {
    const answers: ((reply: SessionReply) => void)[] = []
    vi.stubGlobal(
      'fetch',
      () => new Promise((resolve) => answers.push((reply) => resolve(Response.json(reply)))),
    )
    const both = [refreshPerson(), refreshPerson()]
    answers[1]!({ ...stranger, role: 'demo' })
    answers[0]!(viewer)
    await Promise.all(both)
    expect(isDemo()).toBe(true)
  })

  it('stays as it was while the server does not answer', async () => {
    person.value = viewer
    vi.stubGlobal('fetch', async () => Promise.reject(new TypeError('network')))
    await refreshPerson()
    expect(person.value).toEqual(viewer)
  })

  it.each([
    [401, 1],
    [403, 1],
    [404, 0],
  ])('is asked for anew after an answer of %d: %d times', async (status, times) => {
    vi.stubGlobal('fetch', async () => Response.json({ error: 'No.' }, { status }))
    const before = doubts.value
    await http.plants()
    expect(doubts.value - before).toBe(times)
  })
})
