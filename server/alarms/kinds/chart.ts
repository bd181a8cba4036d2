import type { Verdict } from '../inputs.ts'
import type { KindPlace, Moment, WatcherInputs } from './kind.ts'

const DEFAULT_EVERY_MS = 60_000

/** What one kind of control chart does with each averaged value. */
export interface Chart {
  /** Takes one value; whether the chart gives a signal, on the side given. */
  step(value: number): { high: boolean; low: boolean }
}

/** Words and sides that charts share. */
export function chartPlace({ file, figure }: KindPlace) {
  return { figure: figure.id, everyMs: file.every ?? DEFAULT_EVERY_MS, direction: file.direction }
}

/**
 * Feeds a chart with averages over `everyMs`. Nothing is taken in while the plant file says that the figure means
 * nothing, or while it is bad: averages never reach over such a time. Charts begin anew after a restart.
 */
export function watchChart(
  place: ReturnType<typeof chartPlace>,
  chart: Chart,
  { figures, wasHeld }: WatcherInputs,
) {
  let sum = 0
  let count = 0
  let since: number | undefined
  let isHeld = wasHeld

  function add(value: number, mono: number): void {
    since ??= mono
    sum += value
    count++
    if (mono - since < place.everyMs) return
    const signal = chart.step(sum / count)
    isHeld = (signal.high && place.direction !== 'falling') || (signal.low && place.direction !== 'rising')
    forget()
  }

  function forget(): void {
    sum = 0
    count = 0
    since = undefined
  }

  return {
    watches: [],
    isWorse: (a: number, b: number) => (place.direction === 'falling' ? a < b : a > b),
    look({ now, mono, isIdle }: Moment): Verdict {
      const quality = figures.quality(place.figure)
      if (quality === 'bad') {
        forget()
        return { holds: undefined, value: Number.NaN, at: now, quality }
      }
      const value = figures.value(place.figure)
      if (isIdle || Number.isNaN(value)) forget()
      else add(value, mono)
      return { holds: isHeld, value, at: figures.at(place.figure) || now, quality }
    },
  }
}
