import type { TrialResult } from '../../wire/trial.ts'
import type { CurveKind } from '../fit/fitRequest.ts'
import type { RunStore } from '../runStore.ts'
import { theoryView } from '../theory/theoryView.ts'
import type { PackedRun } from './packedRun.ts'

type KnownRun = NonNullable<ReturnType<RunStore['run']>>

/** Everything that pack and record of a run are made of. */
export async function gatherRun(
  store: RunStore,
  { summary, method }: KnownRun,
  resultOf: (kind: CurveKind) => Promise<TrialResult>,
): Promise<PackedRun> {
  const hasUnit = method.view.unitAbscissa !== null
  const points = store.points(summary.id)
  return {
    summary,
    method,
    result: await resultOf('actual'),
    unitResult: hasUnit ? await resultOf('unit') : null,
    theory: theoryView(method, points, 'actual'),
    unitTheory: hasUnit ? theoryView(method, points, 'unit') : null,
    stored: store.stored(summary.id),
    plantText: (method.plantFile && store.plantFile(method.plantFile.sha256)) ?? null,
  }
}
