import { expandTypes, type Systematic, systematicOf } from '../../statistics/uncertainty.ts'
import type { Comparison, SeriesResult } from '../../wire/findings.ts'
import type { Row } from './curveModel.ts'
import { describeCurve } from './fitCurve.ts'
import { column, type FitRequest, type Laid } from './laid.ts'
import { layCurve } from './layCurve.ts'

export interface NamedRequest {
  id: string
  name: string
  points: number[]
  request: FitRequest
}

/** A curve for each series, and the first against the second. */
export interface ComparedRun {
  series: SeriesResult[]
  comparison: Comparison | null
}

const PLACES = 5

/** A curve for each series, and the first against the second at equal abscissa. */
export function compareSeries(requests: readonly NamedRequest[]): ComparedRun {
  const laid = requests.map(({ request }) => layCurve(request))
  const series = requests.map(({ id, name, points }, i): SeriesResult => {
    const one = laid[i]!
    return {
      id,
      name,
      points,
      result: 'lacking' in one ? { isFitted: false, lacking: one.lacking } : describeCurve(one),
    }
  })
  const [first, second] = laid
  if (!first || !second) return { series, comparison: null }
  if ('lacking' in first || 'lacking' in second) {
    const short = 'lacking' in first ? requests[0]! : requests[1]!
    return { series, comparison: { isPossible: false, lacking: `${short.name} has no curve yet.` } }
  }
  return { series, comparison: compared(requests, first, second) }
}

/**
 * y₁(x) − y₂(x) in the range that both have. Type A of both curves adds; for type B each instrument is off on both sides
 * at once, so what it is off by cancels where both lean on it alike.
 *
 * Source: JCGM 100:2008, 5.1.2 and F.1.2.3 (differences of quantities measured with the same instrument).
 */
function compared(requests: readonly NamedRequest[], first: Laid, second: Laid): Comparison {
  const [low, high] = [Math.max(lowest(first), lowest(second)), Math.min(highest(first), highest(second))]
  if (!(high > low))
    return { isPossible: false, lacking: 'The two have no range in common yet: take points at equal places.' }
  const rows = Array.from({ length: PLACES }, (_, i) => low + ((high - low) * i) / (PLACES - 1))
  return {
    isPossible: true,
    first: requests[0]!.name,
    second: requests[1]!.name,
    rows: rows.map((x) => {
      const [a, b] = [heightAt(first, x), heightAt(second, x)]
      const typeA = Math.hypot(...[first, second].map((one) => one.scatterAt([rowAt(one, x)])[0]!))
      const freedom = Math.min(first.freedom, second.freedom)
      const half = expandTypes({ standard: typeA, freedom }, sharedShift({ first, second, x, gain: a - b }))
      return { x, first: a, second: b, gain: a - b, low: a - b - half, high: a - b + half }
    }),
  }
}

function sharedShift({
  first,
  second,
  x,
  gain,
}: {
  first: Laid
  second: Laid
  x: number
  gain: number
}): Systematic {
  const instruments = [...new Set([...first.instruments.keys(), ...second.instruments.keys()])]
  const parts = instruments.map((one) => heightAt(first, x, one) - heightAt(second, x, one) - gain)
  // What is left where most of it cancels has no shape that one could name.
  return systematicOf(parts.map((standard) => ({ standard, rectangular: 0 })))
}

/** As it would be if `instrument` were off. */
function heightAt(laid: Laid, x: number, instrument?: string): number {
  return laid.heightsAt([rowAt(laid, x)], instrument)[0]!
}

function rowAt({ rows }: Laid, x: number): Row {
  return { ...rows[0]!, x }
}

function lowest({ rows }: Laid): number {
  return Math.min(...column(rows, 'x'))
}

function highest({ rows }: Laid): number {
  return Math.max(...column(rows, 'x'))
}
