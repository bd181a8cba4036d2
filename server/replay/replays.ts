import type { Clock } from '../clock.ts'
import { explainFigure } from '../derive/explain.ts'
import type { HistoryReader } from '../history/store.ts'
import type { FigurePlant } from '../mirror/shownPlant.ts'
import { DONE, granted, noFigure, type Outcome, onceGranted, refuse } from '../outcome.ts'
import { withoutNumbers } from '../push/conceal.ts'
import type { Scene, SceneChange } from '../push/scene.ts'
import type { ExplainReply } from '../wire/explain.ts'
import type { ReplayControl, ReplaySummary } from '../wire/replay.ts'
import type { QueueHealth } from '../wire/replies.ts'
import { SPEEDS } from './playhead.ts'
import { createReplay, type Replay, type ReplayOptions } from './replay.ts'

/** Recordings that are being shown. They live as long as the server and are shown from memory of the history alone. */
export interface Replays {
  start(live: FigurePlant, wish: ReplayWish): Outcome<{ replay: number }>
  /** Those of one plant. */
  list(plant: string): ReplaySummary[]
  find(replay: number): Outcome<Replay>
  control(replay: number, wish: ReplayControl): Outcome<null>
  end(replay: number): Outcome<null>
  explain(replay: number, figure: string): Outcome<ExplainReply>
  scene(id: string): Scene | undefined
  queue(): QueueHealth
  /** Moves every recording on and shows it; call with every tick of the server. */
  tick(): void
}

export type ReplayWish = Pick<ReplayOptions, 'from' | 'to' | 'by' | 'run'>

export interface ReplaysOptions {
  history: Pick<HistoryReader, 'samples'>
  clock: Clock
  show: (scene: Scene, change: SceneChange) => void
  /** Browsers that watch a scene. */
  watching: (scene: string) => number
}

export const MOST_REPLAYS = 4
/** Longest span [ms]. */
export const LONGEST_SPAN_MS = 31 * 86_400_000
/** Without a viewer or a hand on it for this long a replay ends [ms]. */
const IDLE_MS = 2 * 3_600_000

interface Shown {
  replay: Replay
  touchedAt: number
}

export function createReplays({ history, clock, show, watching }: ReplaysOptions): Replays {
  const shown = new Map<number, Shown>()
  let next = 1
  let ended = 0

  function find(id: number): Outcome<Replay> {
    const one = shown.get(id)
    if (!one) return refuse(404, `There is no replay ${id}: it may have been ended.`)
    return granted(one.replay)
  }

  function tick(): void {
    for (const [id, one] of shown) {
      const figures = one.replay.tick(clock.mono())
      const scene = one.replay.scene()
      if (watching(scene.id) > 0) one.touchedAt = clock.mono()
      show(scene, { figures, alarms: [] })
      if (clock.mono() - one.touchedAt <= IDLE_MS) continue
      shown.delete(id)
      ended++
    }
  }

  return {
    start(live, wish) {
      const fault = faultOf(wish, clock.now())
      if (fault !== undefined) return refuse(400, fault)
      if (shown.size >= MOST_REPLAYS)
        return refuse(409, `${MOST_REPLAYS} recordings are being shown already. End one of them first.`)
      const id = next++
      const replay = createReplay({ ...wish, id, plant: live.plant, history })
      shown.set(id, { replay, touchedAt: clock.mono() })
      return granted({ replay: id })
    },
    list: (plant) =>
      [...shown.values()].map(({ replay }) => replay.summary()).filter((one) => one.plant === plant),
    find,
    control: (id, wish) =>
      onceGranted(find(id), (replay) => {
        const unknown = wish.hidden?.find((figure) => !replay.recorded.plan.indexOf.has(figure))
        if (unknown !== undefined) return { ...noFigure(unknown), status: 400 }
        if (wish.speed !== undefined && !SPEEDS.some((speed) => speed === wish.speed))
          return refuse(400, `Speeds are ${SPEEDS.join(', ')}; ${wish.speed} is none of them.`)
        replay.control(wish)
        shown.get(id)!.touchedAt = clock.mono()
        return DONE
      }),
    end: (id) =>
      onceGranted(find(id), () => {
        shown.delete(id)
        return DONE
      }),
    explain: (id, figure) =>
      onceGranted(find(id), ({ recorded, concealed }) => {
        if (concealed().has(figure)) return refuse(409, 'This figure is hidden until it is revealed.')
        const reply = explainFigure(recorded.plan, recorded.evaluator, figure)
        if (!reply) return noFigure(figure)
        return granted(concealed().size > 0 ? { ...reply, value: withoutNumbers(reply.value) } : reply)
      }),
    scene: (id) => [...shown.values()].map(({ replay }) => replay.scene()).find((scene) => scene.id === id),
    tick,
    queue: () => ({
      name: 'replays: samples read ahead',
      length: [...shown.values()].reduce((sum, { replay }) => sum + replay.waiting(), 0),
      limit: MOST_REPLAYS * 500_000,
      policy: `read four minutes ahead at most; at most ${MOST_REPLAYS} replays; one that nobody watches ends after 2 h`,
      dropped: ended,
    }),
  }
}

function faultOf({ from, to }: ReplayWish, now: number): string | undefined {
  if (from >= to) return '"from" must be before "to".'
  if (to > now) return 'What is to come cannot be replayed: "to" must be in the past.'
  if (to - from > LONGEST_SPAN_MS) return 'A replay may be 31 days long at most.'
  return undefined
}
