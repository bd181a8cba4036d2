import type { SeriesRule } from '../wire/findings.ts'
import type { RunFindings, TrialPoint, TrialResult } from '../wire/trial.ts'
import { balanceTable } from './balance/balanceTable.ts'
import { judgeChecks } from './checks/judgeChecks.ts'
import { fitRequestOf } from './fit/fitRequest.ts'
import type { RunMethod } from './runMethod.ts'
import type { TrialThread } from './trialThread.ts'

export interface FindingsWish {
  run: number
  trial: string
  method: RunMethod
  points: readonly TrialPoint[]
  result: TrialResult
}

/** Everything that the points of a run say besides the one curve. */
export async function findingsOf(wish: FindingsWish, thread: TrialThread): Promise<RunFindings> {
  const { run, method, points, result } = wish
  const { series = [], further = [], stages = [] } = method
  const requests = series.map((rule) => {
    const own = points.filter((point) => belongs(point, rule))
    const request = fitRequestOf({ run, kind: 'actual', method, points: own })
    return { id: rule.id, name: rule.name, points: own.map((point) => point.number), request }
  })
  const compared = requests.length === 0 ? { series: [], comparison: null } : await thread.compare(requests)
  const laid = further.map(async ({ name, ...fit }) => ({
    name,
    result: await thread.fit(fitRequestOf({ run, kind: 'actual', method: { ...method, fit }, points })),
  }))
  const found = {
    ...compared,
    further: await Promise.all(laid),
    balance: stages.length === 0 ? null : balanceTable(stages, points),
  }
  const kept = points.filter((point) => point.verdict === 'kept')
  const references = method.references ?? {}
  const checks = judgeChecks(wish.trial, { view: method.view, points: kept, result, references, ...found })
  return { ...found, checks }
}

/** Points of the way that the run's own curve stands for: the first series, or all. */
export function pointsOfCurve({ series }: RunMethod, points: readonly TrialPoint[]): readonly TrialPoint[] {
  const [first] = series ?? []
  return first ? points.filter((point) => belongs(point, first)) : points
}

function belongs({ figures }: TrialPoint, { where }: SeriesRule): boolean {
  return where.every(({ figure, from, to }) => {
    const value = figures.find((one) => one.id === figure)?.mean
    return value !== undefined && (from === null || value >= from) && (to === null || value < to)
  })
}
