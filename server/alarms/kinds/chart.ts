import type { ConditionWatcher, FieldReader, WatcherInputs } from './kind.ts'
import { watchFigure } from './watchFigure.ts'

const DEFAULT_EVERY_MS = 60_000

/** Takes one averaged value into a control chart. @returns on which side the chart gives a signal, if any. */
export type ChartStep = (value: number) => { high: boolean; low: boolean }

/**
 * Feeds a chart with averages over `every`. Nothing is taken in while the plant file says that the figure means
 * nothing, or while it is bad: averages never reach over such a time. Charts begin anew after a restart.
 */
export function watchChart(
  { file, figure }: FieldReader,
  step: ChartStep,
  inputs: WatcherInputs,
): ConditionWatcher {
  const { every = DEFAULT_EVERY_MS, direction } = file
  let sum = 0
  let count = 0
  let since: number | undefined

  function forget(): void {
    sum = 0
    count = 0
    since = undefined
  }

  return watchFigure(figure.id, inputs, {
    isWorse: (a, b) => (direction === 'falling' ? a < b : a > b),
    lost: forget,
    holds(value, wasHeld, { mono, isIdle }) {
      if (isIdle) {
        forget()
        return wasHeld
      }
      since ??= mono
      sum += value
      count++
      if (mono - since < every) return wasHeld
      const signal = step(sum / count)
      forget()
      return (signal.high && direction !== 'falling') || (signal.low && direction !== 'rising')
    },
  })
}
