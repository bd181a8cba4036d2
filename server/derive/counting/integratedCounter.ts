import { rhythmOf } from '../integrate.ts'
import type { FigureLookupById } from '../lookup.ts'
import { type CounterContext, timing } from './counterContext.ts'
import type { CounterKind } from './kind.ts'
import { createTally, type Tally } from './tally.ts'

export interface Integrated {
  tally: Tally
  tick(now: number): void
}

/** The integral of a rate, or of 1 while something holds. */
export function createIntegrated(kind: CounterKind, context: CounterContext, suffix = ''): Integrated {
  const { figures } = context
  const [first] = kind.figures
  const timed = timing(kind, context)
  const rhythm = rhythmOf(figures.staleAfterMs(first))
  const tally = createTally(context, { id: kind.id + suffix, source: 'integrated', rhythm })
  const rate = rateOf(kind, context)
  const halfWidth = halfWidthOf(kind, figures)
  return {
    tally,
    tick(now) {
      tally.begin(now)
      const at = timed(now)
      if (Number.isNaN(at) || at === tally.state().at) return
      const counted = rate()
      tally.take({
        at,
        rate: counted,
        isUncertain: isUncertain(kind, figures),
        u95: halfWidth(counted),
      })
    },
  }
}

function rateOf({ counting }: CounterKind, { look }: CounterContext): () => number {
  if (counting.by === 'integral') return () => counting.rate(look)
  return () => {
    const holds = counting.holds(look, false)
    return holds === undefined ? Number.NaN : Number(holds)
  }
}

/** That of the figure that is summed up, the last one known; null before, and of a sum of several figures or a time. */
function halfWidthOf({ counting }: CounterKind, figures: FigureLookupById): (rate: number) => number | null {
  const of = counting.by === 'integral' ? counting.of : undefined
  let known: number | null = null
  return (rate) => {
    if (of === undefined || rate === 0) return of === undefined ? null : 0
    const half = figures.systematic95(of)
    if (!Number.isNaN(half)) known = half
    return known
  }
}

function isUncertain({ counting, figures: ids }: CounterKind, figures: FigureLookupById): boolean {
  if (counting.by !== 'integral') return false
  return counting.isEstimated === true || ids.some((id) => figures.quality(id) === 'uncertain')
}
