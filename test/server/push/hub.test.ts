import { createServer, type Server as HttpServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { Server } from 'socket.io'
import { io as connect, type Socket } from 'socket.io-client'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { systemClock } from '../../../server/clock.ts'
import { createHub, type Hub } from '../../../server/push/hub.ts'
import { liveScene, type Scene, type SceneChange } from '../../../server/push/scene.ts'
import type { ClientToServer, Frame, JoinReply, ServerToClient } from '../../../server/wire/socketEvents.ts'
import { livePlantOf, type TestPlant } from '../../support/livePlantOf.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'

type Viewer = Socket<ServerToClient, ClientToServer>

describe('createHub', () => {
  let http: HttpServer
  let io: Server<ClientToServer, ServerToClient>
  let hub: Hub
  let live: TestPlant
  let now: number
  let mono: number
  let scene: Scene
  const viewers: Viewer[] = []

  beforeEach(async () => {
    now = START
    mono = 0
    http = createServer()
    io = new Server(http, { transports: ['websocket'] })
    live = livePlantOf(plantOf(THREE_SENSORS), { mono: () => mono })
    const source = { connected: true, name: 'test', since: null }
    const health = { faults: 0, unmapped: 0, storing: true }
    hub = createHub(io, () => new Map([['mill', live]]), {
      clock: { ...systemClock, now: () => now, mono: () => mono },
      surroundings: { source: () => source, health: () => health },
    })
    hub.offer((id) => (id === 'replay-1' ? scene : undefined))
    const replay = {
      at: START,
      from: START,
      to: START + 60_000,
      speed: 1,
      isPaused: true,
      run: null,
      by: 'A',
    }
    scene = {
      ...liveScene(live),
      id: 'replay-1',
      value: () => ({ value: 7, at: START, quality: 'good', reasons: [] }),
      stamp: () => ({ plant: 'mill', hidden: [], replay }),
    }
    await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', resolve))
  })

  afterEach(async () => {
    for (const viewer of viewers.splice(0)) viewer.disconnect()
    await io.close()
  })

  async function join(plant: unknown = 'mill'): Promise<{ viewer: Viewer; reply: JoinReply }> {
    const viewer: Viewer = connect(`http://127.0.0.1:${(http.address() as AddressInfo).port}`, {
      transports: ['websocket'],
    })
    viewers.push(viewer)
    return { viewer, reply: await viewer.emitWithAck('join', plant as string) }
  }

  const nextFrame = (viewer: Viewer) =>
    new Promise<{ frame: Frame; done: () => void }>((resolve) =>
      viewer.once('frame', (frame, done) => resolve({ frame, done })),
    )

  const tick = (figures: readonly number[]) =>
    hub.show(liveScene(live), { figures, alarms: live.board.takeChanged() })

  function change(value: number): void {
    now += 1000
    live.takeReading({
      plant: 'mill',
      instrument: 'meter',
      quantity: 'discharge',
      value,
      measuredAt: now,
      receivedAt: now,
      quality: 'good',
      reasons: [],
    })
    tick(live.tick(now))
  }

  it('answers a join with everything a screen needs', async () => {
    const { reply } = await join()
    if (!reply.ok) throw new Error(reply.error)
    expect(reply.snapshot.plant.id).toBe('mill')
    expect(reply.snapshot.values.length).toBe(reply.snapshot.plant.figures.length)
  })

  it.each([['none'], [null], [{ toString: null }]])('refuses to join %j with a sentence', async (plant) => {
    expect((await join(plant)).reply).toMatchObject({ ok: false, error: expect.stringContaining('no plant') })
  })

  it('sends only what changed', async () => {
    const { viewer } = await join()
    tick(live.tick(now))
    const coming = nextFrame(viewer)
    change(0.01)
    const { frame } = await coming
    const indexes = frame.values.map(([index]) => live.plan.nodes[index]!.description.id)
    expect(indexes).toContain('discharge')
    expect(frame.values.length).toBeLessThan(live.plan.nodes.length + 1)
  })

  it('waits for the receipt of a frame, then sends one frame with the latest of what came meanwhile', async () => {
    const { viewer } = await join()
    const first = nextFrame(viewer)
    change(0.01)
    const { done } = await first
    const second = nextFrame(viewer)
    change(0.02)
    change(0.03)
    done()
    await new Promise((resolve) => setImmediate(resolve))
    // The receipt needs its way through the socket; ticks go on until a frame comes.
    const ticking = setInterval(() => tick([]), 5)
    const { frame } = await second
    clearInterval(ticking)
    const discharge = live.plan.indexOf.get('discharge')!
    expect(frame.values.filter(([index]) => index === discharge)).toEqual([
      [discharge, expect.objectContaining({ value: 0.03 })],
    ])
  })

  it('cuts off a viewer that takes no frame in for 30 s, without harm to another', async () => {
    const slow = await join()
    const quick = await join()
    let frames = 0
    quick.viewer.on('frame', (_frame, done) => {
      frames++
      done()
    })
    const cut = new Promise((resolve) => slow.viewer.on('disconnect', resolve))
    const arrived = nextFrame(slow.viewer)
    change(0.01)
    await arrived
    // Comes back after the quick viewer's receipt, since both take the same way.
    await quick.viewer.emitWithAck('join', 'mill')
    mono += 30_001
    change(0.02)
    await cut
    expect(quick.viewer.connected).toBe(true)
    expect(hub.queue().dropped).toBe(1)
    expect(frames).toBeGreaterThan(0)
  })

  it('sends an alarm ahead of the next frame', async () => {
    const { viewer } = await join()
    const notice = new Promise((resolve) => viewer.once('alarm', resolve))
    hub.alarm('mill', { id: 'over' } as never)
    expect(await notice).toMatchObject({ plant: 'mill', alarm: { id: 'over' } })
  })

  it('stamps the snapshot of another scene, and never one of the plant itself', async () => {
    const { reply } = await join('replay-1')
    expect(reply.ok && reply.snapshot.scene?.replay?.isPaused).toBe(true)
    const { reply: plain } = await join('mill')
    expect(plain.ok && plain.snapshot.scene).toBeUndefined()
  })

  it('sends what happens at a plant to nobody who watches a recording of it', async () => {
    const { viewer } = await join('replay-1')
    const frames: Frame[] = []
    viewer.on('frame', (frame, done) => {
      frames.push(frame)
      done()
    })
    change(0.3)
    hub.alarm('mill', { id: 'over' } as never)
    hub.show(scene, { figures: [0], alarms: [] })
    await expect.poll(() => frames.length).toBe(1)
    expect(frames[0]!.values.map(([, figure]) => figure.value)).toEqual([7])
    expect(frames[0]!.alarms).toBeUndefined()
  })

  it('tells its followers what changed in a scene', () => {
    const heard: SceneChange[] = []
    const stop = hub.follow((one, seen) => one.id === 'mill' && heard.push(seen))
    change(0.3)
    stop()
    tick([])
    expect(heard).toHaveLength(1)
    expect(heard[0]!.figures.length).toBeGreaterThan(0)
  })
})
