import { axisLook, createFrame, drawZero, valueAxis } from './frame.ts'
import { valueRange } from './valueRange.ts'

export interface TraceLine {
  /** Seconds from the alarm, ascending. */
  at: number[]
  /** In the unit that people read. */
  value: number[]
  /** Span of all traces of the event [s]. */
  span: [number, number]
}

/** One instrument around an event, at its own rate: seconds from the alarm along, the alarm as an upright line. */
export function createTraceChart(host: HTMLElement, { at, value, span }: TraceLine): { destroy(): void } {
  return createFrame(host, [at, value], (theme) => ({
    padding: [8, 10, 0, 0],
    scales: {
      x: { time: false, range: () => span },
      y: { range: (_, low, high) => valueRange(low, high, 1) },
    },
    axes: [
      { ...axisLook(theme), size: 26, space: 56, values: (_, splits) => splits.map((one) => `${one} s`) },
      { ...valueAxis(theme), size: 52, space: 24 },
    ],
    series: [{}, { stroke: () => theme().lines[0]!, width: 1.5, points: { show: false } }],
    hooks: { draw: [(plot) => drawZero(plot, theme().alert)] },
  }))
}
