import type { RunResults } from '../runResults.ts'
import type { RunStore } from '../runStore.ts'
import { theoryView } from '../theory/theoryView.ts'
import type { PackedRun } from './packedRun.ts'

type KnownRun = NonNullable<ReturnType<RunStore['run']>>

/** Everything that pack and record of a run are made of. */
export async function gatherRun(
  store: RunStore,
  { summary, method }: KnownRun,
  results: RunResults,
): Promise<PackedRun> {
  const wish = { run: summary.id, trial: summary.trial, method }
  const hasUnit = method.view.unitAbscissa !== null
  const points = store.points(summary.id)
  return {
    summary,
    method,
    result: await results.curve(wish, 'actual'),
    unitResult: hasUnit ? await results.curve(wish, 'unit') : null,
    theory: theoryView(method, points, 'actual'),
    unitTheory: hasUnit ? theoryView(method, points, 'unit') : null,
    findings: await results.findings(wish),
    stored: store.stored(summary.id),
    plantText: (method.plantFile && store.plantFile(method.plantFile.sha256)) ?? null,
  }
}
