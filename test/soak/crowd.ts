import { io, type Socket } from 'socket.io-client'
import { replaySceneId } from '../../server/replay/replay.ts'
import { createRandom } from '../../server/statistics/bootstrap.ts'
import type { DeskReply } from '../../server/wire/lesson.ts'
import type { ClientToServer, ServerToClient } from '../../server/wire/socketEvents.ts'
import { browserCookie, fetchHere } from '../support/serverProcess.ts'

type Viewer = Socket<ServerToClient, ClientToServer>

/** People in front of a demo: they come, look, fall asleep, go, are taught, and watch what was. */
export interface Crowd {
  counts: Readonly<Record<string, number>>
  /** Does the next thing. */
  step(): Promise<void>
  leave(): void
}

const PLANTS = ['quennerby', 'ostrelby', 'skelderwath']
const VIEWERS = 8
const REPLAY_MS = 60_000

export function createCrowd(url: string, seed: number): Crowd {
  const random = createRandom(seed)
  const viewers: Viewer[] = []
  const counts: Record<string, number> = {}
  const oneOf = <T>(all: readonly T[]): T => all[Math.floor(random() * all.length)]!
  let steps = 0

  async function ask<T>(
    method: string,
    path: string,
    { body, cookie }: { body?: object; cookie?: string } = {},
  ) {
    const response = await fetchHere(url + path, {
      method,
      headers: { ...(body ? { 'content-type': 'application/json' } : {}), ...(cookie ? { cookie } : {}) },
      ...(body ? { body: JSON.stringify(body) } : {}),
    })
    const text = await response.text()
    if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${text.slice(0, 200)}`)
    return { reply: JSON.parse(text) as T, cookie: response.headers.getSetCookie().at(-1)?.split(';')[0] }
  }

  async function come(scene = oneOf(PLANTS), isAwake = true): Promise<Viewer> {
    const cookie = browserCookie(url) ?? ''
    const viewer: Viewer = io(url, {
      transports: ['websocket'],
      reconnection: false,
      forceNew: true,
      extraHeaders: { cookie },
    })
    // One that never says that it took a frame in is a frozen tab.
    viewer.on('frame', (_frame, done) => isAwake && done())
    viewer.on('disconnect', () => viewers.splice(viewers.indexOf(viewer), viewers.includes(viewer) ? 1 : 0))
    await viewer.timeout(10_000).emitWithAck('join', scene)
    viewers.push(viewer)
    return viewer
  }

  /** Somebody else in the place of one: as many stay, so that what grows is not the crowd. */
  async function swap(isAwake: boolean): Promise<void> {
    if (viewers.length >= VIEWERS) oneOf(viewers).disconnect()
    await come(oneOf(PLANTS), isAwake)
  }

  const deeds: Record<string, () => Promise<unknown>> = {
    come: () => swap(true),
    freeze: () => swap(false),
    turn: async () => viewers.length > 0 && oneOf(viewers).timeout(10_000).emitWithAck('join', oneOf(PLANTS)),
    trends: () =>
      ask(
        'GET',
        `/api/plants/${oneOf(PLANTS)}/history?figures=netHead,activePower&from=${Date.now() - 600_000}&to=${Date.now()}&points=300`,
      ),
    explain: () => ask('GET', `/api/plants/${oneOf(PLANTS)}/figures/activePower/explain`),
    journal: () => ask('GET', `/api/plants/${oneOf(PLANTS)}/journal?limit=100`),
    health: () => ask('GET', '/api/health'),
  }

  async function teach(): Promise<void> {
    const { reply } = await ask<{ lesson: number }>('POST', '/api/plants/quennerby/lessons', {
      body: { title: 'Soak' },
    })
    const { code } = (await ask<DeskReply>('GET', `/api/lessons/${reply.lesson}`)).reply
    for (const group of ['Green', 'Red', 'Blue']) {
      const { cookie } = await ask('POST', '/api/seat', { body: { code, group } })
      if (cookie === undefined) throw new Error('a phone got no seat')
      for (let i = 0; i < 3; i++)
        await ask('POST', '/api/seat/records', { cookie, body: { key: `soak-${group}-${i}-key`, ageMs: 0 } })
    }
    await ask('POST', `/api/lessons/${reply.lesson}/end`, { body: {} })
  }

  async function replay(): Promise<void> {
    const to = Date.now() - 5000
    const { reply } = await ask<{ replay: number }>('POST', '/api/plants/ostrelby/replays', {
      body: { from: to - REPLAY_MS, to },
    })
    const viewer = await come(replaySceneId(reply.replay))
    await ask('POST', `/api/replays/${reply.replay}`, { body: { isPaused: false, speed: 16 } })
    await new Promise((resolve) => setTimeout(resolve, 3000))
    viewer.disconnect()
    await ask('DELETE', `/api/replays/${reply.replay}`)
  }

  async function step(): Promise<void> {
    steps++
    // In the place of those that the server has cut off.
    while (viewers.length < VIEWERS) await come()
    const name = steps % 40 === 0 ? 'teach' : steps % 60 === 30 ? 'replay' : oneOf(Object.keys(deeds))
    counts[name] = (counts[name] ?? 0) + 1
    await (name === 'teach' ? teach() : name === 'replay' ? replay() : deeds[name]!())
  }

  function leave(): void {
    for (const one of viewers.splice(0)) one.disconnect()
  }

  return { counts, step, leave }
}
