import type { RunSummary } from '../../../server/wire/trial.ts'

export interface RunGroup {
  /** e.g. "2026, Year 2". */
  title: string
  runs: RunSummary[]
}

/** Runs by year and class, in the order in which they come: the group of the newest run first. */
export function groupRuns(runs: readonly RunSummary[]): RunGroup[] {
  const groups = new Map<string, RunGroup>()
  for (const run of runs) {
    const names = [run.year || 'No year', run.className || 'no class']
    const title = run.year === '' && run.className === '' ? 'Without year and class' : names.join(', ')
    const group = groups.get(title) ?? { title, runs: [] }
    group.runs.push(run)
    groups.set(title, group)
  }
  return [...groups.values()]
}
