import type { TheoryView } from '../../wire/findings.ts'
import type { TrialPoint } from '../../wire/point.ts'
import { type CurveKind, fitRequestOf } from '../fit/fitRequest.ts'
import { laws } from '../fit/models/index.ts'
import type { PointMethod } from '../runMethod.ts'
import type { Theory, TheoryLaw } from './theories.ts'

const GRID = 60
/** Settings of one run closer than this share are one line. */
const SAME = 0.03
const MOST_LINES = 4

type Row = Record<string, number>

/**
 * The line that the plant file predicts over the range of a run, at the settings that its points had (frequency, open
 * jets, speed): one line for each setting, at most four. Null before the first point, for runs of plants without such
 * a curve, and in unit quantities that it does not reach.
 */
export function theoryView(
  method: PointMethod,
  points: readonly TrialPoint[],
  kind: CurveKind,
): TheoryView | null {
  const { theory } = method
  if (!theory || (kind === 'unit' && theory.unitFactor === undefined)) return null
  // Along the abscissa as measured in either case: in unit quantities the line is only moved.
  const request = fitRequestOf({ run: 0, kind: 'actual', method, points })
  const rows = request.points.map(({ means }): Row => ({ ...request.constants, ...means }))
  if (rows.length === 0) return null
  const range = [...rows.map((row) => row['x']!), ...method.view.vary.suggested]
  const ends: [number, number] = [Math.min(...range), Math.max(...range)]
  const factor = kind === 'unit' ? theory.unitFactor! : 1
  const lines = settingsOf(rows).map((setting) => lineOf(theory.law, setting, { ends, factor }))
  return { from: theory.from, lines: lines.filter((line) => line.x.length > 1) }
}

/** Means of the points of each setting; of all of them where there are too many. */
function settingsOf(rows: readonly Row[]): Row[] {
  const symbols = Object.keys(rows[0]!).filter((symbol) => symbol !== 'x' && symbol !== 'y')
  const groups: Row[][] = []
  for (const row of rows) {
    const group = groups.find(([first]) => symbols.every((symbol) => isSame(first![symbol]!, row[symbol]!)))
    if (group) group.push(row)
    else groups.push([row])
  }
  return groups.length > MOST_LINES ? [meanOf(rows)] : groups.map(meanOf)
}

function isSame(a: number, b: number): boolean {
  return Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b))
}

function meanOf(rows: readonly Row[]): Row {
  return Object.fromEntries(
    Object.keys(rows[0]!).map((symbol) => [
      symbol,
      rows.reduce((sum, row) => sum + row[symbol]!, 0) / rows.length,
    ]),
  )
}

function lineOf(
  law: TheoryLaw,
  setting: Row,
  { ends: [low, high], factor }: { ends: [number, number]; factor: number },
): { x: number[]; y: number[] } {
  const even = Array.from({ length: GRID }, (_, i) => low + ((high - low) * i) / (GRID - 1))
  const corners = cornersOf(law, setting).filter((x) => x > low && x < high)
  const known = [...even, ...corners]
    .sort((a, b) => a - b)
    .map((x) => ({ x: x * factor, y: predict(law, { ...setting, x }) }))
    .filter(({ y }) => Number.isFinite(y))
  return { x: known.map(({ x }) => x), y: known.map(({ y }) => y) }
}

/** Where a line of straight pieces bends. */
function cornersOf(law: TheoryLaw, setting: Row): number[] {
  if (law.kind === 'model') return []
  const stretch = law.kind === 'affine' ? setting[law.speed]! : 1
  return law.points.map(([x]) => x * stretch)
}

function predict(law: Theory['law'], row: Row): number {
  const x = row['x']!
  if (law.kind === 'table') return between(law.points, x)
  if (law.kind === 'affine') {
    const speed = row[law.speed]!
    return speed ** 2 * between(law.points, x / speed)
  }
  const prepared = laws.get(law.model)!.prepare([row])
  return 'lacking' in prepared ? Number.NaN : prepared.predict(law.parameters, row)
}

/** NaN beyond the ends: the file says nothing there. */
function between(points: readonly [number, number][], x: number): number {
  const next = points.findIndex(([at]) => at >= x * (1 - 1e-9))
  if (next < 0) return Number.NaN
  const [x1, y1] = points[next]!
  if (next === 0) return Math.abs(x - x1) <= Math.abs(x1) * 1e-6 ? y1 : Number.NaN
  const [x0, y0] = points[next - 1]!
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}
