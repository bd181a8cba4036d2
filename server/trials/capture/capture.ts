import type { FigurePlant } from '../../mirror/shownPlant.ts'
import { figureOf } from '../../wire/amounts.ts'
import type { HeldView, PointFigure, PointState, Standing, SteadyView, TrialPoint } from '../../wire/point.ts'
import type { PointGuidance, PointTrialView } from '../../wire/trial.ts'
import { averageFigure } from './average.ts'
import { createSamples, createSetting, SAMPLE_MS, WINDOW_MS, WINDOW_SAMPLES } from './samples.ts'
import { steadinessOf } from './steadiness.ts'

/** A state was steady for a whole window and is new: its means and the readings behind them. */
export interface Captured {
  point: Omit<TrialPoint, 'number' | 'by' | 'origin' | keyof Standing>
  raw: RawWindow
}

/** Columns of equal length; a gap is null. */
export interface RawWindow {
  at: number[]
  figures: Record<string, (number | null)[]>
}

export type CaptureStatus = Omit<PointGuidance, 'takes' | 'at' | 'coverage'>

/** Watches the figures of one trial at one plant. */
export interface Capture {
  /** Takes a sample; a point when one is due. It must be answered with `stored` or `refused`. */
  tick(now: number, points: readonly TrialPoint[]): Captured | undefined
  /** Takes the present window for a value that was typed to it, or says why it cannot. */
  takePresent(now: number): Captured | { refused: string }
  /** The point is safe under this number. */
  stored(number: number): void
  /** It could not be stored: the next sample tries again. */
  refused(): void
  /** The next steady window is stored even where it repeats a point. */
  repeat(): void
  status(): CaptureStatus
}

/** Before anything was sampled. */
export const NOTHING_YET: CaptureStatus = {
  state: 'waiting',
  sentence: 'Waiting for values.',
  held: [],
  steady: [],
  steadySeconds: 0,
  windowSeconds: WINDOW_MS / 1000,
  setting: '',
  point: null,
  abscissa: null,
  ordinate: null,
}

/** Points of one setting whose abscissas are closer than this share of the range are one state. */
const SAME_STATE = 0.02

export interface CaptureOptions {
  view: PointTrialView
  /** Steadiness limits by figure. */
  steady: Readonly<Record<string, number>>
}

export function createCapture(live: FigurePlant, { view, steady }: CaptureOptions): Capture {
  const figures = view.figures.map((figure) => figure.id).filter((id) => live.plan.indexOf.has(id))
  const watched = Object.keys(steady).filter((id) => figures.includes(id))
  const needed = new Set([view.abscissa, view.ordinate, ...view.hold.map((one) => one.figure), ...watched])
  const samples = createSamples(live, figures, needed)
  const typed = view.typed ?? []
  const settingNow = createSetting(live)
  const usual = new Map(view.figures.map((figure) => [figure.id, figure.rated ?? 0]))
  const span = Math.max(...view.vary.suggested.map(Math.abs), 0)
  let status: CaptureStatus = blank()
  let isRepeating = false
  /** The state that is stored; watched until it is left. */
  let present: { number: number; abscissa: number; setting: string } | undefined

  function blank(): CaptureStatus {
    return { ...NOTHING_YET, steady: watched.map((figure) => ({ figure, state: 'unknown' })) }
  }

  function tick(now: number, points: readonly TrialPoint[]): Captured | undefined {
    const setting = settingNow()
    if (setting !== status.setting) samples.clear()
    const lost = samples.take(now)
    status = { ...blank(), setting }
    if (lost.length > 0) {
      present = undefined
      status.sentence = `No point can be taken. ${lost[0]}.`
      return undefined
    }
    look()
    return advise(now, points)
  }

  /** What is seen, before anything is made of it. */
  function look(): void {
    status.steadySeconds = (longestSteady() * SAMPLE_MS) / 1000
    status.abscissa = samples.values(view.abscissa).at(-1) ?? null
    status.ordinate = samples.values(view.ordinate).at(-1) ?? null
    status.held = view.hold.map(heldNow)
    status.steady = watched.map((figure) => ({ figure, state: steadinessAt(figure, samples.at.length) }))
  }

  function advise(now: number, points: readonly TrialPoint[]): Captured | undefined {
    const { setting } = status
    const abscissa = meanOf(view.abscissa)
    if (present && (present.setting !== setting || !isSame(status.abscissa!, present.abscissa)))
      present = undefined
    if (present && !isRepeating) return sayPresent(present.number, points)
    const off = status.held.find((one) => one.state !== 'held')
    if (off) return say('off', `${nameOf(off.figure)} is too ${off.state}: ${off.advice}.`)
    if (status.steadySeconds * 1000 < WINDOW_MS) return say('settling', settlingSentence())
    const same = points.find(
      (one) => one.verdict === 'kept' && one.setting === setting && isSame(abscissa, abscissaOf(one)),
    )
    if (same && !isRepeating)
      return say(
        'duplicate',
        `Point ${same.number} has this state already. Move on, or repeat it.`,
        same.number,
      )
    if (typed.length > 0)
      return say(
        'typing',
        `Steady. Read ${typed.map((one) => one.name.toLowerCase()).join(' and ')} now and type it.`,
      )
    status.state = 'storing'
    return capture(now, same?.number ?? null)
  }

  function sayPresent(number: number, points: readonly TrialPoint[]): undefined {
    const isRejected = points.some((one) => one.number === number && one.verdict === 'rejected')
    const what = isRejected
      ? 'of this state was rejected. Move on, or take it anew'
      : 'holds this state. Move on'
    return say('captured', `Point ${number} ${what}.`, number)
  }

  function say(state: PointState, sentence: string, point: number | null = null): undefined {
    status = { ...status, state, sentence, point }
  }

  function capture(now: number, repeatOf: number | null): Captured {
    const averages = figures
      .map((id) => averageFigure(id, samples.values(id), live))
      .filter((one): one is PointFigure => one !== undefined)
    return {
      point: {
        at: now,
        from: samples.at[0]!,
        samples: samples.at.length,
        setting: status.setting,
        repeatOf,
        figures: averages,
        remarks: samples.remarks(),
      },
      raw: {
        at: [...samples.at],
        figures: Object.fromEntries(
          figures.map((id) => [id, samples.values(id).map((value) => (Number.isNaN(value) ? null : value))]),
        ),
      },
    }
  }

  /** Number of newest samples over which everything is steady. */
  function longestSteady(): number {
    if (samples.unsettled() !== undefined) return 0
    const step = WINDOW_SAMPLES / 10
    for (let count = samples.at.length; count >= step; count -= step)
      if (watched.every((figure) => steadinessAt(figure, count) === 'steady')) return count
    return 0
  }

  function steadinessAt(figure: string, count: number): SteadyView['state'] {
    return steadinessOf(samples.track(figure, count), {
      share: steady[figure]!,
      usual: usual.get(figure) ?? 0,
    })
  }

  function heldNow({ figure, target, tolerance, low, high }: PointTrialView['hold'][number]): HeldView {
    const value = meanOf(figure, WINDOW_SAMPLES / 10)
    const whole = meanOf(figure)
    const apart = Math.abs(whole - target) > Math.abs(value - target) ? whole : value
    // The window's mean counts only once the window could be stored; until then the present is what can be acted on.
    const heldValue = status.steadySeconds * 1000 >= WINDOW_MS ? apart : value
    const state = stateOf(heldValue - target, tolerance)
    const advice = state === 'low' ? low : state === 'high' ? high : ''
    return { figure, value: Number.isNaN(value) ? null : value, target, tolerance, state, advice }
  }

  function meanOf(figure: string, newest = WINDOW_SAMPLES): number {
    const values = samples.values(figure).slice(-newest)
    return values.reduce((sum, value) => sum + value, 0) / values.length
  }

  function isSame(a: number, b: number): boolean {
    return Math.abs(a - b) <= SAME_STATE * Math.max(span, Math.abs(a), Math.abs(b))
  }

  function abscissaOf(point: TrialPoint): number {
    return figureOf(point, view.abscissa)?.mean ?? Number.NaN
  }

  function nameOf(figure: string): string {
    return figureOf(view, figure)?.name ?? figure
  }

  function settlingSentence(): string {
    const unsettled = samples.unsettled()
    if (unsettled !== undefined) return `${unsettled}. Wait.`
    const restless = status.steady.filter((one) => one.state === 'moving' || one.state === 'scattering')
    if (restless.length === 0 || status.steadySeconds > 0) return 'Steady so far. Leave everything as it is.'
    const { figure, state } = restless[0]!
    return `${nameOf(figure)} ${state === 'moving' ? 'is still moving' : 'scatters too much'}. Wait.`
  }

  return {
    tick,
    takePresent(now) {
      if (status.state === 'typing' || status.state === 'duplicate') return capture(now, status.point)
      return { refused: status.sentence }
    },
    stored(number) {
      isRepeating = false
      present = { number, abscissa: meanOf(view.abscissa), setting: status.setting }
      say('captured', `Point ${number} is stored. Move on.`, number)
      samples.clear()
    },
    refused() {
      say('storing', 'The state is steady, but the point could not be stored yet. It is tried again.')
    },
    repeat() {
      isRepeating = true
      samples.clear()
    },
    status: () => status,
  }
}

function stateOf(apart: number, tolerance: number): HeldView['state'] {
  if (Number.isNaN(apart)) return 'unknown'
  if (Math.abs(apart) <= tolerance) return 'held'
  return apart < 0 ? 'low' : 'high'
}
