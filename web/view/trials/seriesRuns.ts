import type { PointRunReply } from '../../../server/wire/trial.ts'

/** What is drawn with one colour and shape. */
export interface NamedRun {
  name: string
  run: PointRunReply
}

/** A run as one curve, or as one for each of its series; points of no series come last, without a curve. */
export function seriesRuns(reply: PointRunReply): NamedRun[] {
  const { run, findings, points } = reply
  const own = [run.name, run.className, run.year].filter((text) => text !== '').join(', ')
  if (findings.series.length === 0) return [{ name: own, run: reply }]
  const named = findings.series.map((series) => ({
    name: series.name,
    run: {
      ...reply,
      result: series.result,
      points: points.filter((point) => series.points.includes(point.number)),
    },
  }))
  const placed = new Set(findings.series.flatMap((series) => series.points))
  const rest = points.filter((point) => !placed.has(point.number))
  if (rest.length === 0) return named
  const lacking: PointRunReply['result'] = { isFitted: false, lacking: '' }
  return [...named, { name: 'In no series', run: { ...reply, result: lacking, points: rest } }]
}
