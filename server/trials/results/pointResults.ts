import { figureOf } from '../../wire/amounts.ts'
import type { RunFindings, SeriesRule, TrialResult } from '../../wire/findings.ts'
import type { TrialPoint } from '../../wire/point.ts'
import type { PointResults } from '../../wire/trial.ts'
import { balanceTable } from '../balance/balanceTable.ts'
import { judgeChecks } from '../checks/check.ts'
import { type CurveKind, fitRequestOf } from '../fit/fitRequest.ts'
import type { PointMethod } from '../runMethod.ts'
import { theoryView } from '../theory/theoryView.ts'
import type { PointTrial } from '../trial.ts'
import type { TrialThread } from '../trialThread.ts'

export interface PointWish {
  run: number
  method: PointMethod
  points: TrialPoint[]
  checks: PointTrial['checks']
}

/** Everything that the points of a run say. */
export async function pointResults(wish: PointWish, thread: TrialThread): Promise<PointResults> {
  const { run, method, points, checks } = wish
  const onCurve = pointsOfCurve(method, points)
  const lay = (kind: CurveKind) => thread.fit(fitRequestOf({ run, kind, method, points: onCurve }))
  const hasUnit = method.view.unitAbscissa !== null
  const result = await lay('actual')
  const findings = await findingsOf(wish, thread)
  const kept = points.filter((point) => point.verdict === 'kept')
  const { view, references } = method
  return {
    takes: 'points',
    points,
    result,
    unitResult: hasUnit ? await lay('unit') : null,
    theory: theoryView(method, points, 'actual'),
    unitTheory: hasUnit ? theoryView(method, points, 'unit') : null,
    findings,
    checks: judgeChecks(view.checks, checks, { view, points: kept, result, references, ...findings }),
  }
}

/** What they say besides the one curve. */
async function findingsOf(wish: Omit<PointWish, 'checks'>, thread: TrialThread): Promise<RunFindings> {
  const { run, method, points } = wish
  const { series, further, stages } = method
  const requests = series.map((rule) => {
    const own = points.filter((point) => belongs(point, rule))
    const request = fitRequestOf({ run, kind: 'actual', method, points: own })
    return { id: rule.id, name: rule.name, points: own.map((point) => point.number), request }
  })
  const compared = requests.length === 0 ? { series: [], comparison: null } : await thread.compare(requests)
  const laid = further.map(async ({ name, ...fit }): Promise<{ name: string; result: TrialResult }> => {
    const request = fitRequestOf({ run, kind: 'actual', method: { ...method, fit }, points })
    return { name, result: await thread.fit(request) }
  })
  return {
    ...compared,
    further: await Promise.all(laid),
    balance: stages.length === 0 ? null : balanceTable(stages, points),
  }
}

/** Points of the way that the run's own curve stands for: the first series, or all. */
function pointsOfCurve({ series }: PointMethod, points: readonly TrialPoint[]): readonly TrialPoint[] {
  const [first] = series
  return first ? points.filter((point) => belongs(point, first)) : points
}

function belongs(point: TrialPoint, { where }: SeriesRule): boolean {
  return where.every(({ figure, from, to }) => {
    const value = figureOf(point, figure)?.mean
    return value !== undefined && (from === null || value >= from) && (to === null || value < to)
  })
}
