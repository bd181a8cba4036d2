import { viewOf } from '../../../server/wire/amounts.ts'
import type { TraceChannel, TraceCurve, TraceReply, TraceView } from '../../../server/wire/trace.ts'
import { unitView } from '../../../server/wire/units.ts'
import type { DrawnLine } from '../../plot/linesChart.ts'

/** One trace with its readings, and the look of its line. */
export interface ShownTrace {
  /** e.g. "Trace 2". */
  name: string
  look: number
  readings: TraceReply
  view: TraceView
}

/** The channel of every trace, aligned; fitted curves over it where `isMain`. */
export function channelLines(
  shown: readonly ShownTrace[],
  channel: TraceChannel,
  isMain: boolean,
): DrawnLine[] {
  const unit = viewOf(channel)
  const measured = shown.flatMap(({ readings, look }): DrawnLine[] => {
    const line = readings.lines.find((one) => one.quantity === channel.quantity)
    if (!line) return []
    const first = firstOf(line.at)
    return [{ x: line.at.slice(first), y: line.value.slice(first).map(unit.value), look, weight: 'thin' }]
  })
  const fitted = isMain
    ? shown.flatMap(({ view, look }) => curvesOf(view, 'fitted').map((one) => curveLine(one, look, 'thick')))
    : []
  return [...measured, ...fitted]
}

/** A contact that has not changed for hours has a reading from then: it would stretch the axis. */
const LONGEST_LEAD = 30

function firstOf(at: readonly number[]): number {
  return Math.max(
    0,
    at.findIndex((time) => time > -LONGEST_LEAD),
  )
}

export function curveLine(curve: TraceCurve, look: number, weight: DrawnLine['weight']): DrawnLine {
  const x = unitView(curve.xUnit, curve.xViewUnit)
  const y = viewOf(curve)
  const place = curve.kind === 'residual' ? y.difference : y.value
  return { x: curve.x.map(x.value), y: curve.y.map(place), look, weight }
}

export function curvesOf({ result }: TraceView, kind: TraceCurve['kind']): TraceCurve[] {
  return result?.isReduced ? result.curves.filter((one) => one.kind === kind) : []
}
