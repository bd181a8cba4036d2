import { type DrawnRun, endsOf, valuesAlong } from '../../server/wire/drawn.ts'
import type { Range } from './frame.ts'

/** Ends of both axes that hold every point with its bars, every band, and the best point with its interval. */
export function curveRange(runs: readonly DrawnRun[]): { x: Range; y: Range } {
  const ends = (axis: 'x' | 'y') =>
    endsOf(
      runs.flatMap((run) => valuesAlong(axis, run)),
      { room: 0.08, isFromZero: true },
    )
  return { x: ends('x'), y: ends('y') }
}
