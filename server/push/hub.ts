import type { IncomingMessage } from 'node:http'
import type { Server, Socket } from 'socket.io'
import type { Clock } from '../clock.ts'
import { createListeners } from '../listeners.ts'
import type { ShownPlant } from '../mirror/shownPlant.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { HealthLine, PlantView, Snapshot, SourceView } from '../wire/plant.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { ClientToServer, Frame, ServerToClient } from '../wire/socketEvents.ts'
import { liveScene, type Scene, type SceneChange } from './scene.ts'
import { alarmWithRoles, type RoleOf, snapshotWithRoles, stampWithRole } from './withRoles.ts'

type PageServer = Server<ClientToServer, ServerToClient>
type PageSocket = Socket<ClientToServer, ServerToClient>

/** What the page needs to know beside the plants themselves. */
export interface Surroundings {
  source(): SourceView
  health(): HealthLine
}

export interface HubOptions {
  clock: Clock
  surroundings: Surroundings
  /** Asked with the handshake of the browser and the scene at every join; without it everybody may. */
  mayRead?: (handshake: IncomingMessage, scene: string) => boolean
  /** Asked with every join: what stands for the names of people before this browser; undefined where they may be told. */
  rolesFor?: (handshake: IncomingMessage) => RoleOf | undefined
}

/** Sends live figures to browsers. */
export interface Hub {
  /** Browsers may watch these scenes too, besides the plants themselves. */
  offer(scenes: (id: string) => Scene | undefined): void
  /** What browsers can watch under this id. */
  scene(id: string): Scene | undefined
  /** What changed in a scene since the call before; goes out as one frame per viewer with credit. */
  show(scene: Scene, change: SceneChange): void
  /** Called with what changed in any scene, watched or not. Returns the function that stops it. */
  follow(listener: SceneListener): () => void
  /** Ahead of the next frame. */
  alarm(plant: string, alarm: AlarmView): void
  snapshot(live: ShownPlant): Snapshot
  snapshotOf(scene: Scene): Snapshot
  plantChanged(plant: string): void
  queue(): QueueHealth
  viewers(): number
  /** Viewers of one scene. */
  watching(scene: string): number
  framesSent(): number
}

type SceneListener = (scene: Scene, change: SceneChange) => void

/** A viewer that has not taken a frame in for this long is cut off; it comes back with a fresh snapshot. */
const PATIENCE_MS = 30_000
/** Everybody who joins a scene within this long [ms] gets the same snapshot of it. */
const SNAPSHOT_MS = 200

interface Viewer {
  socket: PageSocket
  scene: string | null
  /** Set where no names of people may be told. */
  roleOf: RoleOf | undefined
  /** Indexes that changed since the last frame. */
  pending: Set<number>
  pendingAlarms: Map<string, AlarmView>
  /** False while a frame is on its way: the next waits for its receipt. */
  hasCredit: boolean
  sentAt: number
  shown: { state: string; source: string; health: string; stamp: string }
}

export function createHub(
  io: PageServer,
  plants: () => ReadonlyMap<string, ShownPlant>,
  { clock, surroundings, mayRead = () => true, rolesFor = () => undefined }: HubOptions,
): Hub {
  const viewers = new Set<Viewer>()
  const followers = createListeners<Parameters<SceneListener>>()
  /** Of scenes joined of late; not before the last change of each. */
  const snapshots = new Map<string, { at: number; view: PlantView; snapshot: Snapshot }>()
  const offered: ((id: string) => Scene | undefined)[] = []
  let sequence = 0
  let framesSent = 0
  let cutOff = 0

  io.on('connection', (socket) => {
    const viewer: Viewer = {
      socket,
      scene: null,
      roleOf: undefined,
      pending: new Set(),
      pendingAlarms: new Map(),
      hasCredit: true,
      sentAt: 0,
      shown: { state: '', source: '', health: '', stamp: '' },
    }
    viewers.add(viewer)
    socket.on('join', (id, reply) => join(viewer, id, reply))
    socket.on('leave', () => leave(viewer))
    socket.on('disconnect', () => viewers.delete(viewer))
  })

  function join(viewer: Viewer, id: unknown, reply: unknown): void {
    if (typeof reply !== 'function') return
    leave(viewer)
    if (!mayRead(viewer.socket.request, typeof id === 'string' ? id : '')) {
      reply({ ok: false, error: 'Sign in to see this plant.', signIn: true })
      return
    }
    const scene = typeof id === 'string' ? sceneOf(id) : undefined
    if (!scene) {
      const name = typeof id === 'string' ? id.slice(0, 64) : typeof id
      reply({ ok: false, error: `There is no plant "${name}".` })
      return
    }
    viewer.scene = scene.id
    viewer.shown = shownNow(scene)
    viewer.roleOf = rolesFor(viewer.socket.request)
    const { roleOf } = viewer
    // whom names may be told has alarms at once, by one message for all
    if (!roleOf) void viewer.socket.join(scene.id)
    const snapshot = snapshotOf(scene)
    reply({ ok: true, snapshot: roleOf ? snapshotWithRoles(snapshot, roleOf) : snapshot })
  }

  function sceneOf(id: string): Scene | undefined {
    const live = plants().get(id)
    if (live) return liveScene(live)
    for (const scenes of offered) {
      const scene = scenes(id)
      if (scene) return scene
    }
    return undefined
  }

  function leave(viewer: Viewer): void {
    if (viewer.scene !== null) void viewer.socket.leave(viewer.scene)
    viewer.scene = null
    viewer.pending.clear()
    viewer.pendingAlarms.clear()
  }

  function snapshotOf(scene: Scene): Snapshot {
    const made = snapshots.get(scene.id)
    if (made && clock.mono() - made.at < SNAPSHOT_MS && made.view === scene.view)
      return { ...made.snapshot, sequence, at: clock.now() }
    const snapshot = takeSnapshot(scene)
    snapshots.set(scene.id, { at: clock.mono(), view: scene.view, snapshot })
    return snapshot
  }

  function takeSnapshot(scene: Scene): Snapshot {
    const stamp = scene.stamp()
    return {
      sequence,
      at: clock.now(),
      plant: scene.view,
      state: scene.state(),
      values: scene.view.figures.map((_, index) => scene.value(index)),
      alarms: scene.alarms(),
      source: surroundings.source(),
      health: surroundings.health(),
      ...(stamp ? { scene: stamp } : {}),
    }
  }

  function shownNow(scene: Scene): Viewer['shown'] {
    return {
      state: JSON.stringify(scene.state()),
      source: JSON.stringify(surroundings.source()),
      health: JSON.stringify(surroundings.health()),
      stamp: JSON.stringify(scene.stamp()),
    }
  }

  function show(scene: Scene, change: SceneChange): void {
    serve(scene, change)
    followers.call([scene, change])
  }

  function serve(scene: Scene, { figures, alarms }: SceneChange): void {
    sequence++
    snapshots.delete(scene.id)
    const watching = [...viewers].filter((viewer) => viewer.scene === scene.id)
    if (watching.length === 0) return
    const views = new Map<number, FigureValue>()
    const shown = shownNow(scene)
    for (const viewer of watching) {
      for (const index of figures) viewer.pending.add(index)
      for (const alarm of alarms) viewer.pendingAlarms.set(alarm.id, alarm)
      if (viewer.hasCredit) send(viewer, scene, { views, shown })
      else if (clock.mono() - viewer.sentAt > PATIENCE_MS) giveUp(viewer)
    }
  }

  interface Shared {
    /** Views made once per tick, whoever needs them. */
    views: Map<number, FigureValue>
    shown: Viewer['shown']
  }

  function send(viewer: Viewer, scene: Scene, { views, shown }: Shared): void {
    const { roleOf } = viewer
    const stamp = viewer.shown.stamp === shown.stamp ? null : scene.stamp()
    const alarms = [...viewer.pendingAlarms.values()]
    const frame: Frame = {
      sequence,
      at: clock.now(),
      values: [...viewer.pending].map((index) => [index, viewOf(scene, views, index)]),
      ...(alarms.length > 0
        ? { alarms: roleOf ? alarms.map((alarm) => alarmWithRoles(alarm, roleOf)) : alarms }
        : {}),
      ...(viewer.shown.state === shown.state ? {} : { state: scene.state() }),
      ...(viewer.shown.source === shown.source ? {} : { source: surroundings.source() }),
      ...(viewer.shown.health === shown.health ? {} : { health: surroundings.health() }),
      ...(stamp ? { scene: roleOf ? stampWithRole(stamp, roleOf) : stamp } : {}),
    }
    viewer.pending.clear()
    viewer.pendingAlarms.clear()
    viewer.shown = shown
    viewer.hasCredit = false
    viewer.sentAt = clock.mono()
    framesSent++
    viewer.socket.emit('frame', frame, () => {
      viewer.hasCredit = true
    })
  }

  function viewOf(scene: Scene, views: Map<number, FigureValue>, index: number): FigureValue {
    const known = views.get(index)
    if (known) return known
    const view = scene.value(index)
    views.set(index, view)
    return view
  }

  function giveUp(viewer: Viewer): void {
    cutOff++
    viewer.socket.disconnect(true)
  }

  return {
    offer: (scenes) => void offered.push(scenes),
    scene: sceneOf,
    show,
    follow: (listener) => followers.add((shown) => listener(...shown)),
    snapshot: (live) => snapshotOf(liveScene(live)),
    snapshotOf,
    alarm(plant, alarm) {
      snapshots.delete(plant)
      const at = clock.now()
      io.to(plant).emit('alarm', { plant, alarm, at })
      for (const { socket, scene, roleOf } of viewers)
        if (roleOf && scene === plant)
          socket.emit('alarm', { plant, alarm: alarmWithRoles(alarm, roleOf), at })
    },
    plantChanged(plant) {
      snapshots.delete(plant)
      for (const { socket } of viewers) if (mayRead(socket.request, plant)) socket.emit('plantChanged', plant)
    },
    queue: () => ({
      name: 'figures waiting for slow viewers',
      length: [...viewers].reduce((sum, viewer) => sum + viewer.pending.size, 0),
      limit: viewers.size * Math.max(0, ...[...plants().values()].map((live) => live.plan.nodes.length)),
      policy: 'the latest value of a figure replaces the one before; a viewer silent for 30 s is cut off',
      dropped: cutOff,
    }),
    viewers: () => viewers.size,
    watching: (scene) => [...viewers].filter((viewer) => viewer.scene === scene).length,
    framesSent: () => framesSent,
  }
}
