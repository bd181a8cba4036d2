import type { RunResults } from '../runResults.ts'
import type { RunStore } from '../runStore.ts'
import { theoryView } from '../theory/theoryView.ts'
import { NO_CURVE, NO_FINDINGS } from '../trace/noCurve.ts'
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
    plantText: plantTextOf(store, method),
  }
}

/** The same for a run that records traces: no curve is laid through points. */
export function tracedRun(store: RunStore, { summary, method }: KnownRun): PackedRun {
  return {
    ...{ summary, method, result: NO_CURVE, findings: NO_FINDINGS },
    ...{ unitResult: null, theory: null, unitTheory: null },
    stored: store.stored(summary.id),
    plantText: plantTextOf(store, method),
  }
}

function plantTextOf(store: RunStore, { plantFile }: KnownRun['method']): string | null {
  return (plantFile && store.plantFile(plantFile.sha256)) ?? null
}
