import type { RunReply } from '../../server/wire/trial.ts'
import { START } from './manualClock.ts'
import { type RecordedTrial, STEP_MS } from './recordedTrial.ts'

/** Quantities of the simulator behind figures that are means of several. */
const TRUE_ONE: Record<string, string> = {
  meanPhaseCurrent: 'phaseCurrent.1',
  meanPhaseVoltage: 'phaseVoltage.1',
}

/**
 * Captured points during whose window the true state moved by more than the trial allows: the drift over the window is
 * twice the difference between the means of its halves, of the simulator's own values, which no instrument blurs.
 */
export function unsteadyPoints(
  { points }: RunReply,
  { columns }: RecordedTrial,
  limits: Readonly<Record<string, number>>,
): number[] {
  return points
    .filter(({ from, at }) => {
      const [first, last] = [from, at].map((time) => Math.round((time - START) / STEP_MS))
      return Object.entries(limits).some(([figure, limit]) => {
        const truth = columns.get(TRUE_ONE[figure] ?? figure)
        return truth !== undefined && driftOf(truth.subarray(first, last)) > limit
      })
    })
    .map(({ number }) => number)
}

/** Share of the mean. */
function driftOf(values: Float64Array): number {
  const middle = values.length >> 1
  const mean = (part: Float64Array) => part.reduce((sum, one) => sum + one, 0) / part.length
  return (
    (2 * Math.abs(mean(values.subarray(middle)) - mean(values.subarray(0, middle)))) / Math.abs(mean(values))
  )
}
