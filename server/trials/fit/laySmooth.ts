import { type SmoothCurve, smoothThrough } from '../../statistics/smoothCurve.ts'
import { bestOfSmooth } from './bestOfSmooth.ts'
import type { Row } from './curveModel.ts'
import { column, type FitRequest, instrumentsOf, type Laid, movedBy, rowsOf, tooFew } from './laid.ts'
import type { SmoothModel } from './models/smoothCurves.ts'

const FEWEST = 4

/** Lays a smooth curve through the points, or says why not. */
export function laySmooth(request: FitRequest, { formula, base }: SmoothModel): Laid | { lacking: string } {
  const rows = rowsOf(request)
  if (rows.length < FEWEST) return tooFew(rows.length, FEWEST)
  const [x, y] = [column(rows, 'x'), column(rows, 'y')]
  const curve = isOnePlace(x) ? undefined : smoothThrough({ x, y, base })
  if (!curve) return { lacking: 'All points lie at one place: move on and take others.' }
  const heights = curve.heightsAt(x)
  const instruments = instrumentsOf(request)
  const heightsAt = (places: readonly Row[], instrument?: string) => {
    const at = column(places, 'x')
    return instrument === undefined || !instruments.has(instrument)
      ? curve.heightsAt(at)
      : through(curve, movedBy(instrument, request), at)
  }
  const laid = {
    request,
    formula,
    rows,
    parameters: [],
    freedom: curve.freedom,
    residuals: y.map((value, i) => value - heights[i]!),
    deviation: curve.deviation,
    instruments,
    heightsAt,
    scatterAt: (places: readonly Row[]) => curve.scatterAt(column(places, 'x')),
  }
  return { ...laid, best: () => bestOfSmooth(laid, curve) }
}

function through(curve: SmoothCurve, rows: readonly Row[], places: readonly number[]): number[] {
  return curve.heightsThrough({ x: column(rows, 'x'), y: column(rows, 'y') }, places)
}

/** Abscissas within a part in a million of each other. */
function isOnePlace(x: readonly number[]): boolean {
  const [low, high] = [Math.min(...x), Math.max(...x)]
  return high - low <= 1e-6 * Math.max(Math.abs(low), Math.abs(high))
}
