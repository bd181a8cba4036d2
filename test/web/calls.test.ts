import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { accessRequests } from '../../web/connect/accessRequests.ts'
import { http } from '../../web/connect/http.ts'
import { deskRequests, seatRequests } from '../../web/connect/lessonRequests.ts'
import { replayRequests } from '../../web/connect/replayRequests.ts'
import { trialRequests } from '../../web/connect/trialRequests.ts'
import { REFERENCE_FILES } from '../../web/reference.ts'
import { routeOf } from '../support/describedReplies.ts'

/** Stands for any argument: a name or number within an address, or an object that things are taken out of. */
const ANY = {
  toString: () => '1',
  alarm: 'low',
  action: 'acknowledge',
  takes: 'points',
  number: 1,
  figures: [],
  from: 0,
  to: 1,
}

const TRACE = { ...ANY, takes: 'traces' }

const CALLS = Object.entries({
  http,
  accessRequests,
  deskRequests,
  seatRequests,
  replayRequests,
  trialRequests,
}).flatMap(([of, calls]) =>
  Object.entries(calls).flatMap(([name, call]) =>
    name === 'decide'
      ? [[`${of}.${name} of a point`, call, ANY] as const, [`${of}.${name} of a trace`, call, TRACE] as const]
      : [[`${of}.${name}`, call, ANY] as const],
  ),
)

// What the page asks for and what the server answers are written down apart: the table of routes is the other side.
describe('what the page asks for', () => {
  let asked: string[]

  beforeEach(() => {
    asked = []
    vi.stubGlobal('fetch', (path: string, { method = 'GET' }: RequestInit = {}) => {
      asked.push(`${method} ${path}`)
      return Promise.reject(new Error('no server'))
    })
  })
  afterEach(() => void vi.unstubAllGlobals())

  it.each(CALLS)('has a route: %s', async (_name, call, any) => {
    const given = typeof call === 'function' ? (call as (...all: unknown[]) => unknown)(ANY, ANY, any) : call
    if (typeof given === 'string') asked.push(`GET ${given}`)
    else await given
    expect(asked.length).toBeGreaterThan(0)
    const [first] = asked
    const [method, path] = first!.split(' ') as [string, string]
    // or a file that the build puts beside the page
    const isFile = method === 'GET' && REFERENCE_FILES.includes(path.slice(1))
    expect(isFile || routeOf(method, path), first).toBeTruthy()
  })
})
