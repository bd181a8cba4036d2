import type { DeskReply, LessonSummary } from '../../server/wire/lesson.ts'
import { BENCH_PLACE } from '../support/accessBench.ts'
import { lessonBench } from '../support/lessonBench.ts'
import { memoryStore } from '../support/memoryHistory.ts'

/** As whom a case comes. */
export const WHO = ['administrator', 'phone', 'stranger'] as const
export type Who = (typeof WHO)[number]

/** Texts that mean something to the server below. */
export const WORDS = [
  'quennerby',
  'netHead',
  'activePower',
  'speed',
  'turbineEfficiency',
  'energyGenerated',
  'over-speed',
  'efficiencyDischarge',
  'runDown',
  'nozzleLaw',
  'jet-1',
  'Green',
  'Red',
  'Ada',
  'administrator',
  'viewer',
  'abcdefgh',
  'turn the water on',
  'accept',
  'kW',
  '1',
  '100',
]

/** A server with a plant that runs, a lesson and people, and ways in that come back when a case has ended them. */
export interface World {
  url: string
  cookie(who: Who): string
  /** Whoever this was has been sent away: they come in anew before the next case. */
  lost(who: Who): void
  before(): Promise<void>
  close(): Promise<void>
}

/** The history of tests reads all its rows for each question, in this thread; the real one does not. */
const ROWS = 5000
/** The plant goes on once in so many cases, by so much [s]. */
const PLAY_EVERY = 20
const PLAY_S = 0.2

export async function openWorld(): Promise<World> {
  const bench = await lessonBench({}, memoryStore({ rowLimit: ROWS }))
  const { administer, sessions } = bench.headrace.pageSide.access
  const gone = new Set<Who>(['administrator', 'phone'])
  const cookies = new Map<Who, string>()
  let cases = 0
  let people = 0

  function signIn(): string {
    const isMine = ({ role }: { role: string }) => role === 'administrator'
    if (!administer.list().some(isMine)) administer.add(`Root ${people++}`, 'administrator')
    return `headrace=${sessions.start(administer.list().find(isMine)!.id, BENCH_PLACE)}`
  }

  async function tell<T>(method: string, path: string, body?: object): Promise<T> {
    const response = await fetch(bench.headrace.url + path, {
      method,
      headers: { cookie: signIn(), 'content-type': 'application/json', 'x-forwarded-for': '192.0.2.7' },
      ...(body ? { body: JSON.stringify(body) } : {}),
    })
    return (await response.json()) as T
  }

  /** A phone in a lesson that is open; cases may have closed it, or filled it. */
  async function sitDown(): Promise<string> {
    const lessons = '/api/plants/quennerby/lessons'
    for (const { id, endedAt } of await tell<LessonSummary[]>('GET', lessons))
      if (endedAt === null) await tell('POST', `/api/lessons/${id}/end`, {})
    const { lesson } = await tell<{ lesson: number }>('POST', lessons, { title: 'Fuzz' })
    const { code } = await tell<DeskReply>('GET', `/api/lessons/${lesson}`)
    const seat = await fetch(`${bench.headrace.url}/api/seat`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-forwarded-for': `192.0.2.${people++ % 250}` },
      body: JSON.stringify({ code, group: 'Green' }),
    })
    const cookie = seat.headers.getSetCookie().at(-1)?.split(';')[0]
    if (cookie === undefined) throw new Error(`no seat: ${await seat.text()}`)
    return cookie
  }

  return {
    url: bench.headrace.url,
    cookie: (who) => cookies.get(who) ?? '',
    lost: (who) => void (who !== 'stranger' && gone.add(who)),
    async before() {
      if (cases++ % PLAY_EVERY === 0) bench.play(PLAY_S)
      if (gone.delete('administrator')) cookies.set('administrator', signIn())
      if (gone.delete('phone')) cookies.set('phone', await sitDown())
    },
    close: bench.close,
  }
}
