import type { RunFindings, TrialPoint, TrialResult } from '../wire/trial.ts'
import { findingsOf, pointsOfCurve } from './findings.ts'
import { type CurveKind, fitRequestOf } from './fit/fitRequest.ts'
import type { RunMethod } from './runMethod.ts'
import type { RunStore } from './runStore.ts'
import type { TrialThread } from './trialThread.ts'

export interface ResultWish {
  run: number
  trial: string
  method: RunMethod
}

/** What the kept points of runs say; made anew only when they changed. */
export interface RunResults {
  curve(wish: ResultWish, kind: CurveKind): Promise<TrialResult>
  findings(wish: ResultWish): Promise<RunFindings>
}

/** Results that are kept; older ones are made anew when they are asked for. */
const MOST_RESULTS = 200

export function createRunResults(store: RunStore, thread: TrialThread): RunResults {
  const curves = createShelf<TrialResult>()
  const findings = createShelf<RunFindings>()

  function curve({ run, method }: ResultWish, kind: CurveKind): Promise<TrialResult> {
    const points = store.points(run)
    return curves(`${run} ${kind}`, keyOf(points), () =>
      thread.fit(fitRequestOf({ run, kind, method, points: pointsOfCurve(method, points) })),
    )
  }

  return {
    curve,
    findings(wish) {
      const points = store.points(wish.run)
      return findings(String(wish.run), keyOf(points), async () =>
        findingsOf({ ...wish, points, result: await curve(wish, 'actual') }, thread),
      )
    },
  }
}

/** Keeps what was made under a name until its key changes; the longest kept gives way. */
function createShelf<T>(): (name: string, key: string, make: () => Promise<T>) => Promise<T> {
  const held = new Map<string, { key: string; made: Promise<T> }>()
  return (name, key, make) => {
    const known = held.get(name)
    if (known?.key === key) return known.made
    const made = make()
    if (!known && held.size >= MOST_RESULTS) held.delete([...held.keys()][0]!)
    held.set(name, { key, made })
    return made
  }
}

function keyOf(points: readonly TrialPoint[]): string {
  return points.map((point) => `${point.number}${point.verdict}`).join()
}
