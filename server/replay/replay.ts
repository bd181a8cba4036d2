import { describePlant } from '../derive/plantView.ts'
import { signalName } from '../history/recorder.ts'
import type { HistoryReader } from '../history/store.ts'
import type { Plant } from '../plant/plant.ts'
import { CONCEALED, concealedWith, plainState, withoutNumbers } from '../push/conceal.ts'
import type { Scene } from '../push/scene.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { ReplayControl, ReplayMark, ReplaySummary } from '../wire/replay.ts'
import { createPlayhead } from './playhead.ts'
import { createRecordedPlant, type RecordedPlant } from './recordedPlant.ts'
import { createTape } from './tape.ts'

/** One recording that is shown to everybody who joins it, at one moment for all. */
export interface Replay {
  id: number
  recorded: RecordedPlant
  /** Recorded moment that is shown [ms UTC]. */
  at(): number
  summary(): ReplaySummary
  scene(): Scene
  /** Figures that nobody may see yet: the hidden ones and what follows from them. */
  concealed(): ReadonlySet<string>
  control(wish: ReplayControl): void
  /** Moves on; returns the indexes of the figures that changed. */
  tick(mono: number): number[]
  /** Samples that are read and not shown yet. */
  waiting(): number
}

export interface ReplayOptions {
  id: number
  plant: Plant
  history: Pick<HistoryReader, 'samples'>
  from: number
  to: number
  by: string
  run?: { id: number; name: string; marks: ReplayMark[] }
}

/** Recorded time between two evaluations [ms], as it is live where no other is asked for. */
const STEP_MS = 200
/** What is fed before the first moment, so that windows and slopes are what they were [ms]. */
const WARM_UP_MS = 30_000
/** Evaluations of one tick at most: at the highest speed a tick needs a fraction of them, after a jump all. */
const MOST_STEPS = 75

export const replaySceneId = (id: number) => `replay:${id}`

export function createReplay(options: ReplayOptions): Replay {
  const { id, plant, history, from, to, by, run } = options
  const recorded = createRecordedPlant(plant)
  const tape = createTape({
    history,
    signals: recorded.signals.map((figure) => signalName(plant.id, figure)),
    sparse: recorded.sparse.map((figure) => signalName(plant.id, figure)),
    to: to + 1,
  })
  const playhead = createPlayhead({ from, to })
  const sceneId = replaySceneId(id)
  const view = { ...describePlant(recorded.plan), id: sceneId, controls: [] }
  const everyFigure = recorded.plan.nodes.map((node) => node.index)
  let hidden: string[] = []
  let concealed: ReadonlySet<string> = new Set()
  /** Up to here it was evaluated [ms UTC]. */
  let evaluatedAt = from - WARM_UP_MS
  let isAllNew = true
  rewind()

  function rewind(): void {
    recorded.clear()
    evaluatedAt = playhead.at() - WARM_UP_MS
    tape.rewind(evaluatedAt)
    isAllNew = true
  }

  function tick(mono: number): number[] {
    // Moments are whole milliseconds everywhere; the fraction stays with the playhead.
    const goal = Math.floor(playhead.advance(mono, tape.through() - 1))
    const changed = new Set(isAllNew ? everyFigure : [])
    isAllNew = false
    const most = Math.min(goal, tape.through() - 1)
    for (let steps = 0; evaluatedAt < most && steps < MOST_STEPS; steps++)
      for (const index of evaluateTo(Math.min(most, nextStep(evaluatedAt)))) changed.add(index)
    return [...changed]
  }

  function evaluateTo(moment: number): number[] {
    recorded.take(tape.take(moment))
    evaluatedAt = moment
    return recorded.evaluate(moment)
  }

  function control({ isPaused, speed, at, hidden: wish }: ReplayControl): void {
    if (speed !== undefined) playhead.setSpeed(speed)
    if (at !== undefined) {
      playhead.jump(at)
      rewind()
    }
    if (isPaused === true) playhead.pause()
    if (isPaused === false) {
      const isAtEnd = playhead.at() >= to
      playhead.run()
      if (isAtEnd) rewind()
    }
    if (wish !== undefined) {
      hidden = [...new Set(wish)]
      concealed = concealedWith(recorded.plan, hidden)
      isAllNew = true
    }
  }

  function value(index: number): FigureValue {
    const figure = view.figures[index]?.id ?? ''
    if (concealed.has(figure)) return CONCEALED
    const shown = recorded.evaluator.view(index)
    return concealed.size > 0 ? withoutNumbers(shown) : shown
  }

  /** Never ahead of what the figures are of: after a jump it catches up first. */
  const at = () => Math.min(to, Math.max(from, Math.min(Math.floor(playhead.at()), evaluatedAt)))

  const replayView = () => ({
    at: at(),
    from,
    to,
    by,
    speed: playhead.speed(),
    isPaused: playhead.isPaused(),
    run: run?.id ?? null,
  })

  return {
    id,
    recorded,
    at,
    control,
    tick,
    concealed: () => concealed,
    waiting: tape.length,
    summary: () => ({
      ...replayView(),
      id,
      scene: sceneId,
      plant: plant.id,
      plantName: plant.name,
      hidden,
      runName: run?.name ?? null,
      marks: run?.marks ?? [],
      waits: waitSentence(),
    }),
    scene: () => ({
      id: sceneId,
      view,
      value,
      state: () => (concealed.size > 0 ? plainState(recorded.state()) : recorded.state()),
      alarms: () => [],
      stamp: () => ({ plant: plant.id, hidden: [...concealed], replay: replayView() }),
    }),
  }

  function waitSentence(): string | null {
    const fault = tape.fault()
    if (fault !== undefined) return `The recording cannot be read: ${fault}.`
    return tape.through() <= playhead.at() && playhead.at() < to ? 'The recording is being read.' : null
  }
}

/** Evaluations lie on whole steps, wherever ticks fall. */
function nextStep(at: number): number {
  return Math.floor(at / STEP_MS + 1) * STEP_MS
}
