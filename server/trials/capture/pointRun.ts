import type { FigurePlant } from '../../mirror/shownPlant.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { TrialResult } from '../../wire/findings.ts'
import type { PointFigure } from '../../wire/point.ts'
import type { PointGuidance, PointTrialView } from '../../wire/trial.ts'
import type { PointMethod } from '../runMethod.ts'
import { MOST_POINTS, type NewPoint, type TakeStore } from '../takeStore.ts'
import { combineTyped } from '../typed/combineTyped.ts'
import type { TypedValue } from '../typed/typedPlan.ts'
import { type Capture, type Captured, createCapture, NOTHING_YET, type RawWindow } from './capture.ts'
import { coverageOf } from './coverage.ts'
import { SAMPLE_MS } from './samples.ts'

/** A run of points under way: watches the plant and stores points as they come. */
export interface PointRun {
  readonly takes: 'points'
  readonly id: number
  readonly plant: string
  /** As it was when the run began. */
  readonly trial: PointTrialView
  tick(now: number): void
  repeat(): void
  /** Somebody looks at the run. One that nobody has looked at for long rests, as does one that was left open by a server before. */
  seen(): void
  /** Goes on taking points, or rests. */
  arm(armed: boolean): void
  /** Readings are missing: the window begins anew. */
  readingsLost(): void
  /** Stores the present steady state together with what was typed to it; else why not. */
  enterPresent(entry: PresentEntry): { number: number } | { refused: string }
  guidance(now: number, result: TrialResult): PointGuidance
}

export interface PresentEntry {
  by: string
  measuredBy?: string
  now: number
  typed: readonly TypedValue[]
}

export interface PointRunOptions {
  id: number
  plant: string
  by: string
  method: PointMethod
  store: TakeStore
  /** A server before this one left it open: somebody has to say that it goes on. */
  isLeftOpen: boolean
  /** The plant as it is now: its file may be read anew during a run. */
  live: () => FigurePlant | undefined
}

/** Samples without anybody looking, and the minutes that they make. */
const ALONE_MINUTES = 10
const ALONE_SAMPLES = (ALONE_MINUTES * 60_000) / SAMPLE_MS

const LEFT_OPEN = 'The server was started anew while this run was open.'
const ALONE = `Nobody has looked at this run for ${ALONE_MINUTES} minutes.`
const STOOD_DOWN = 'The run rests.'
const GO_ON = 'No point is taken until somebody goes on.'

export function createPointRun(options: PointRunOptions): PointRun {
  const { id, plant, by, method, store, live } = options
  let watched: { live: FigurePlant; capture: Capture } | undefined
  /** Why it rests; undefined while it takes points. */
  let resting = options.isLeftOpen ? LEFT_OPEN : undefined
  let alone = 0

  function arm(armed: boolean): void {
    resting = armed ? undefined : STOOD_DOWN
    alone = 0
    // What came meanwhile is no part of a window.
    watched = undefined
  }

  function captureNow(): Capture | undefined {
    const now = live()
    if (!now) return undefined
    if (watched?.live !== now)
      watched = { live: now, capture: createCapture(now, { view: method.view, steady: method.steady }) }
    return watched.capture
  }

  function tick(now: number): void {
    if (resting === undefined && ++alone > ALONE_SAMPLES) resting = ALONE
    if (resting !== undefined) return
    const capture = captureNow()
    if (!capture) return
    const points = store.points(id)
    if (points.length >= MOST_POINTS) return
    const captured = capture.tick(now, points)
    if (!captured) return
    const number = points.length + 1
    const point: NewPoint = { ...captured.point, number, origin: 'automatic', by }
    if (store.addPoint(id, point, captured.raw)) capture.stored(number)
    else capture.refused()
  }

  function enterPresent({
    by: reader,
    measuredBy,
    now,
    typed,
  }: PresentEntry): { number: number } | { refused: string } {
    if (resting !== undefined) return { refused: `${resting} ${GO_ON}` }
    const capture = captureNow()
    if (!capture || !watched) return { refused: NO_PLANT.sentence }
    const taken = capture.takePresent(now)
    if ('refused' in taken) return taken
    const number = store.points(id).length + 1
    if (number > MOST_POINTS) return { refused: 'The run is full. Start another.' }
    const wanted = method.view.figures.map((figure) => figure.id)
    const figures = combineTyped({ live: watched.live, averages: taken.point.figures, typed, wanted, now })
    const remarks = [...taken.point.remarks, `typed: ${typed.map((one) => one.figure).join(', ')}`]
    const point: NewPoint = {
      ...taken.point,
      figures,
      remarks,
      number,
      by: reader,
      ...(measuredBy ? { measuredBy } : {}),
      origin: 'combined',
    }
    if (!store.addPoint(id, point, rawOf(taken, figures))) {
      capture.refused()
      return { refused: 'It could not be stored: the disk may be full. Nothing was changed.' }
    }
    capture.stored(number)
    return { number }
  }

  return {
    takes: 'points',
    id,
    plant,
    trial: method.view,
    tick,
    repeat() {
      if (resting !== undefined) arm(true)
      captureNow()?.repeat()
    },
    seen() {
      alone = 0
    },
    arm,
    readingsLost() {
      watched = undefined
    },
    enterPresent,
    guidance(now, result) {
      const { view } = method
      const taken = store
        .points(id)
        .filter((point) => point.verdict === 'kept')
        .flatMap((point) => figureOf(point, view.abscissa)?.mean ?? [])
      const best = result.isFitted ? result.best : null
      const status =
        resting === undefined
          ? (captureNow()?.status() ?? NO_PLANT)
          : { ...NOTHING_YET, state: 'resting' as const, sentence: `${resting} ${GO_ON}` }
      return { takes: 'points', ...status, at: now, coverage: coverageOf(view.vary, taken, best) }
    },
  }
}

/** Without the samples of estimates that the typed value took the place of. */
function rawOf({ point, raw }: Captured, figures: readonly PointFigure[]): RawWindow {
  const isAverage = (id: string) => point.figures.some((one) => figures.includes(one) && one.id === id)
  return {
    at: raw.at,
    figures: Object.fromEntries(Object.entries(raw.figures).filter(([id]) => isAverage(id))),
  }
}

const NO_PLANT = { ...NOTHING_YET, sentence: 'The plant of this run is not read at present.' }
