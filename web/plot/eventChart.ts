import { axisLook, createFrame, type DrawnChart, drawZero, type Range, valueAxis } from './frame.ts'
import { valueRange } from './valueRange.ts'

export interface EventLine {
  /** Seconds from the alarm, ascending. */
  at: number[]
  /** In the unit that people read. */
  value: number[]
  /** Span of all traces of the event [s]. */
  span: Range
}

/** One instrument around an event, at its own rate: seconds from the alarm along, the alarm as an upright line. */
export function createEventChart(host: HTMLElement, line: EventLine): DrawnChart<EventLine> {
  return createFrame(host, line, {
    dataOf: ({ at, value }) => [at, value],
    look: (stage) => ({
      padding: [8, 10, 0, 0],
      scales: {
        x: { time: false, range: () => stage.drawn.span },
        y: { range: (_, low, high) => valueRange(low, high, 1) },
      },
      axes: [
        { ...axisLook(stage), size: 26, space: 56, values: (_, splits) => splits.map((one) => `${one} s`) },
        { ...valueAxis(stage), size: 52, space: 24 },
      ],
      series: [{}, { stroke: () => stage.theme.lines[0]!, width: 1.5, points: { show: false } }],
      hooks: { draw: [(plot) => drawZero(plot, stage.theme.alert)] },
    }),
  })
}
