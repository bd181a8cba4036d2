import { batch, effect, signal } from '@preact/signals'
import type { Socket } from 'socket.io-client'
import type { Snapshot } from '../../server/wire/plant.ts'
import type {
  AlarmNotice,
  ClientToServer,
  Frame,
  JoinReply,
  ServerToClient,
} from '../../server/wire/socketEvents.ts'
import {
  createPlantHold,
  isSamePlant,
  mergeAlarms,
  type PlantHold,
  takeFrame,
  takeSnapshot,
} from '../hold/plantHold.ts'
import { createServerClock } from '../hold/serverClock.ts'
import { doubts, http } from './http.ts'
import { createLastKnown } from './lastKnown.ts'
import { type LinkPhase, nextStep, QUIET_MS, retryDelay, untilLoaded } from './linkStatus.ts'

type PlantSocket = Socket<ServerToClient, ClientToServer>

/** How often silence is looked for [ms]. */
const WATCH_MS = 250
/** Longest wait [ms] for the answer to a join. */
const JOIN_MS = 5000

/**
 * The page's one connection: which plant is wanted, what is known about it, and whether that is still true.
 * Reconnects by itself; `notice` says in words what is wrong.
 */
export function createConnection() {
  const clock = createServerClock()
  const hold = signal<PlantHold | null>(null)
  const phase = signal<LinkPhase>('idle')
  const detail = signal<string | undefined>(undefined)
  /** Time since the last frame [ms], in steps of one second so that the page is not drawn for every tick. */
  const silentMs = signal(0)
  /** What ages are counted from, once a second: the server's time, or the moment that a replay shows. */
  const now = signal(clock.now())
  /** Counts joins after which trends and lists should be read again. */
  const joins = signal(0)
  const hasFrames = signal(false)

  let socket: PlantSocket | null = null
  let wanted: string | null = null
  let [heardAt, lostAt] = [performance.now(), performance.now()]
  let probe: 'none' | 'waiting' | 'unanswered' = 'none'

  const lastKnown = createLastKnown({ hold, phase, silentMs, detail })

  function isLive(): boolean {
    const isFresh = hasFrames.value && silentMs.value < QUIET_MS
    return phase.value === 'live' && isFresh && !hold.value?.scene.value?.replay
  }

  function heard(at: number): void {
    clock.take(at)
    heardAt = performance.now()
    lastKnown.heard(at)
    probe = 'none'
    silentMs.value = 0
  }

  function takeWhole(snapshot: Snapshot): void {
    const held = hold.value
    if (held && isSamePlant(held, snapshot)) takeSnapshot(held, snapshot)
    else hold.value = createPlantHold(snapshot)
    now.value = shownNow()
  }

  /** A recording does not grow older while one looks at it. */
  function shownNow(): number {
    const scene = hold.value?.scene.value
    return scene?.replay?.at ?? scene?.lesson?.frozenAt ?? clock.now()
  }

  function join(): void {
    const plant = wanted
    if (!socket?.connected || !plant) return
    if (phase.value !== 'live') phase.value = 'joining'
    probe = 'waiting'
    socket.timeout(JOIN_MS).emit('join', plant, (failure: Error | null, answer?: JoinReply) => {
      if (plant !== wanted) return
      if (failure || !answer) probe = 'unanswered'
      else batch(() => takeAnswer(answer))
    })
  }

  function takeAnswer(answer: JoinReply): void {
    probe = 'none'
    if (!answer.ok) {
      refused(answer.error, answer.signIn === true)
      return
    }
    heard(answer.snapshot.at)
    takeWhole(answer.snapshot)
    phase.value = 'live'
    joins.value++
  }

  function refused(why: string, forWantOfARight: boolean): void {
    batch(() => {
      if (forWantOfARight) doubts.value++
      phase.value = 'refused'
      detail.value = why
    })
  }

  function comeBack(): void {
    if (wanted !== null && phase.value !== 'refused') socket?.connect()
  }

  function takeLiveFrame(frame: Frame, done: () => void): void {
    const held = hold.value
    if (held && phase.value === 'live')
      batch(() => {
        heard(frame.at)
        hasFrames.value = true
        if (takeFrame(held, frame) === 'unknownFigure') join()
      })
    done()
  }

  function takeNotice({ plant, alarm, at }: AlarmNotice): void {
    const held = hold.value
    if (held?.view.id !== plant) return
    heard(at)
    held.alarms.value = mergeAlarms(held.alarms.value, [alarm])
  }

  function lost(): void {
    if (wanted && phase.value !== 'refused') phase.value = 'lost'
    hasFrames.value = false
  }

  async function open(): Promise<void> {
    const loaded = await untilLoaded(() => import('socket.io-client'), lost)
    socket = loaded.io({
      transports: ['websocket'],
      reconnectionDelay: 500,
      reconnectionDelayMax: 5000,
      timeout: 5000,
    })
    socket.on('connect', () => {
      // The connection before may have been cut off because its session ended.
      doubts.value++
      join()
    })
    socket.on('disconnect', (reason) => {
      lostAt = performance.now()
      lost()
      if (wanted === null) socket?.disconnect()
      // After being sent away by the server the library does not come back by itself.
      else if (reason === 'io server disconnect') setTimeout(comeBack, retryDelay(0))
    })
    socket.on('connect_error', (error: Error & { data?: { signIn?: true } }) => {
      if (error.data?.signIn) return refused(error.message, true)
      lost()
      if (!socket?.active) setTimeout(comeBack, retryDelay(1))
    })
    socket.on('frame', takeLiveFrame)
    socket.on('alarm', takeNotice)
    socket.on('plantChanged', (plant) => plant === wanted && join())
  }

  function watch(): void {
    const silent = performance.now() - heardAt
    // Below the limit nobody is told, above it the words change once a second.
    silentMs.value = silent < QUIET_MS ? 0 : Math.max(QUIET_MS, Math.floor(silent / 1000) * 1000)
    if (Math.floor(now.value / 1000) !== Math.floor(shownNow() / 1000)) now.value = shownNow()
    const step = nextStep({ phase: phase.value, silentMs: silent }, probe)
    if (step === 'join') join()
    if (step === 'reopen') {
      probe = 'none'
      lost()
      socket?.disconnect().connect()
    }
  }

  /** Shows this plant, or other scene, from now on; a plant's last known values come by HTTP meanwhile. */
  function show(plant: string): void {
    if (wanted === plant) return
    leave()
    wanted = plant
    bringBack(plant)
    if (socket?.connected) join()
    else if (socket) socket.connect()
    else void open()
    // Only a plant has figures before the connection is there.
    if (plant.includes(':')) return
    void http.live(plant).then((answer) => {
      if (!answer.ok || wanted !== plant || phase.value === 'live' || phase.value === 'refused') return
      clock.take(answer.reply.at)
      lastKnown.heard(answer.reply.at)
      takeWhole(answer.reply)
    })
  }

  /** What was last known of it, until something newer comes. */
  function bringBack(plant: string): void {
    const isCut = socket !== null && !socket.connected
    heardAt = isCut ? lostAt : performance.now()
    batch(() => {
      phase.value = isCut ? 'lost' : 'joining'
      lastKnown.bringBack(plant)
    })
  }

  /** Connects anew, as whoever is signed in now. */
  function reopen(): void {
    lastKnown.forget()
    if (phase.value === 'refused') phase.value = 'joining'
    socket?.disconnect().connect()
  }

  function leave(): void {
    if (wanted && socket?.connected) socket.emit('leave')
    const left = wanted
    wanted = null
    batch(() => {
      if (left) lastKnown.putAway(left)
      phase.value = 'idle'
      detail.value = undefined
      hasFrames.value = false
    })
  }

  setInterval(watch, WATCH_MS)
  effect(() => {
    document.documentElement.dataset.live = String(isLive())
  })

  return { ...lastKnown.shown, hold, phase, now, joins, show, leave, reopen, serverNow: shownNow }
}

export type Connection = ReturnType<typeof createConnection>
